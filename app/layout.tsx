import "./globals.css";
import type { Metadata, Viewport } from "next";
import { headers } from "next/headers";
import type { ReactNode } from "react";
import { GROUND_SCRIPT } from "./_components/ground-script.ts";
import { NONCE_HEADER } from "./_server/wanted.ts";

export const metadata: Metadata = {
  title: { default: "Homewater", template: "%s · Homewater" },
  description: "Water quality and life support of every system, worst first.",
};

export const viewport: Viewport = { width: "device-width", initialScale: 1 };

export default async function RootLayout({ children }: { children: ReactNode }) {
  const nonce = (await headers()).get(NONCE_HEADER) ?? undefined;
  return (
    <html lang="en" suppressHydrationWarning>
      <head>
        {/* biome-ignore lint/security/noDangerouslySetInnerHtml: a constant of ours; the ground must be known before the first paint, and React escapes the children of a script */}
        <script nonce={nonce} suppressHydrationWarning dangerouslySetInnerHTML={{ __html: GROUND_SCRIPT }} />
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
