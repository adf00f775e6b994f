import type { NextConfig } from "next";

const securityHeaders = [
  { key: "X-Content-Type-Options", value: "nosniff" },
  { key: "Referrer-Policy", value: "same-origin" },
  { key: "X-Frame-Options", value: "DENY" },
  {
    key: "Content-Security-Policy",
    value: "frame-ancestors 'none'; base-uri 'self'; form-action 'self'; object-src 'none'",
  },
  { key: "Permissions-Policy", value: "camera=(), microphone=(), geolocation=()" },
];

const config: NextConfig = {
  reactStrictMode: true,
  poweredByHeader: false,
  // Types are checked by `npm run check`, for the tests too; checking them again here would only delay a first start.
  typescript: { ignoreBuildErrors: true },
  // Without it the root is guessed from lock files in folders above, which differs between machines.
  turbopack: { root: import.meta.dirname },
  headers: async () => [{ source: "/:path*", headers: securityHeaders }],
};

export default config;
