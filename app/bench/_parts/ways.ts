/** Unit and method last used for each quantity on this device, so that nobody chooses them every morning. */
export interface Way {
  readonly unit: string;
  readonly method: string;
}
const KEY = "homewater-bench-ways";

/** What is remembered; nothing where storage is refused or holds something else. */
export function readWays(): Readonly<Record<string, Way>> {
  try {
    const held: unknown = JSON.parse(localStorage.getItem(KEY) ?? "{}");
    if (typeof held !== "object" || held === null) return {};
    return Object.fromEntries(
      Object.entries(held as Record<string, Partial<Way> | null>)
        .filter(([, way]) => typeof way?.unit === "string" && typeof way.method === "string")
        .map(([quantity, way]) => [quantity, { unit: way?.unit ?? "", method: way?.method ?? "" }]),
    );
  } catch (refused) {
    console.info(`Units and methods are not remembered: ${String(refused)}`);
    return {};
  }
}

export function keepWay(quantity: string, way: Way): void {
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...readWays(), [quantity]: way }));
  } catch (refused) {
    console.info(`Unit and method are not remembered: ${String(refused)}`);
  }
}
