/** The pages of the head, in the order of a working day. A new page adds its line here. */
export const PAGES = [
  { id: "overnight", path: "/overnight", label: "Overnight" },
  { id: "systems", path: "/systems", label: "Systems" },
  { id: "bench", path: "/bench", label: "Bench" },
  { id: "home-water", path: "/home-water", label: "Home water" },
  { id: "logbook", path: "/logbook", label: "Logbook" },
  { id: "probes", path: "/probes", label: "Probes" },
  { id: "sums", path: "/sums", label: "Sums" },
  { id: "set-up", path: "/set-up", label: "Set-up" },
  { id: "account", path: "/sign-in", label: "Account" },
] as const;
export type PageId = (typeof PAGES)[number]["id"];
