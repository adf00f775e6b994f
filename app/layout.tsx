import "./globals.css";
import type { Metadata, Viewport } from "next";
import localFont from "next/font/local";
import { headers } from "next/headers";
import type { ReactNode } from "react";
import { EARLY_SCRIPT } from "./_components/controls/early-script.ts";
import { GROUND_SCRIPT } from "./_components/frame/ground-script.ts";
import { NONCE_HEADER } from "./_server/wanted.ts";

// Never swapped in under the reader: where it comes late, this visit keeps the device's own face, cut to the same width.
const face = localFont({
  src: "../node_modules/@fontsource-variable/ibm-plex-sans/files/ibm-plex-sans-latin-wght-normal.woff2",
  weight: "100 700",
  display: "optional",
  preload: false,
  variable: "--face-latin",
});

const FIRST_SCRIPT = `${GROUND_SCRIPT};${EARLY_SCRIPT}`;

export const metadata: Metadata = {
  title: { default: "Homewater", template: "%s · Homewater" },
  description: "Water quality and life support of every system, worst first.",
};

export const viewport: Viewport = { width: "device-width", initialScale: 1 };

export default async function RootLayout({ children }: { children: ReactNode }) {
  const nonce = (await headers()).get(NONCE_HEADER) ?? undefined;
  return (
    <html lang="en" className={face.variable} suppressHydrationWarning>
      <head>
        {/* biome-ignore lint/security/noDangerouslySetInnerHtml: constants of ours; the ground must be known before the first paint and a press held from the first on, and React escapes the children of a script */}
        <script nonce={nonce} suppressHydrationWarning dangerouslySetInnerHTML={{ __html: FIRST_SCRIPT }} />
      </head>
      <body>
        <a className="skip" href="#main">
          Skip to content
        </a>
        {children}
      </body>
    </html>
  );
}
