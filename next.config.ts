import type { NextConfig } from "next";

// The content security policy carries a nonce of its own for each page: see proxy.ts.
const securityHeaders = [
  { key: "X-Content-Type-Options", value: "nosniff" },
  { key: "Referrer-Policy", value: "same-origin" },
  { key: "X-Frame-Options", value: "DENY" },
  // Browsers heed it over https alone (RFC 6797 section 8.1).
  { key: "Strict-Transport-Security", value: "max-age=31536000" },
  { key: "Cross-Origin-Resource-Policy", value: "same-origin" },
  { key: "Permissions-Policy", value: "camera=(), microphone=(), geolocation=()" },
];

const config: NextConfig = {
  reactStrictMode: true,
  poweredByHeader: false,
  // Types are checked by `npm run check`, for the tests too; checking them again here would only delay a first start.
  typescript: { ignoreBuildErrors: true },
  // Without it the root is guessed from lock files in folders above, which differs between machines.
  turbopack: { root: import.meta.dirname },
  // `next start` reads no source maps; those of the server were four fifths of the build's size and a quarter of its time.
  experimental: { turbopackSourceMaps: false },
  headers: async () => [
    { source: "/:path*", headers: securityHeaders },
    {
      source: "/api/:path*",
      headers: [{ key: "Content-Security-Policy", value: "default-src 'none'; frame-ancestors 'none'" }],
    },
  ],
};

export default config;
