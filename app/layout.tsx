import "./globals.css";
import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import { GROUND_SCRIPT } from "./_components/ground-script.ts";

export const metadata: Metadata = {
  title: { default: "Homewater", template: "%s · Homewater" },
  description: "Water quality and life support of every system, worst first.",
};

export const viewport: Viewport = { width: "device-width", initialScale: 1 };

export default function RootLayout({ children }: { children: ReactNode }) {
  return (
    <html lang="en" suppressHydrationWarning>
      <head>
        {/* biome-ignore lint/security/noDangerouslySetInnerHtml: a constant of ours; the ground must be known before the first paint, and React escapes the children of a script */}
        <script dangerouslySetInnerHTML={{ __html: GROUND_SCRIPT }} />
      </head>
      <body>
        <a className="skip" href="#main">
          Skip to the content
        </a>
        {children}
      </body>
    </html>
  );
}
