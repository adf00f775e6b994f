const SYSTEMS_KEY = "homewater-bench-systems";
const MOST = 8;

/** Short names of the systems tested last from this device, newest first. */
export function lastSystems(): readonly string[] {
  try {
    const held: unknown = JSON.parse(localStorage.getItem(SYSTEMS_KEY) ?? "[]");
    return Array.isArray(held) ? held.filter((code): code is string => typeof code === "string") : [];
  } catch (refused) {
    console.info(`The systems used last are not remembered: ${String(refused)}`);
    return [];
  }
}

export function keepLastSystem(code: string): void {
  try {
    const others = lastSystems().filter((other) => other !== code);
    localStorage.setItem(SYSTEMS_KEY, JSON.stringify([code, ...others].slice(0, MOST)));
  } catch (refused) {
    console.info(`The systems used last are not remembered: ${String(refused)}`);
  }
}
