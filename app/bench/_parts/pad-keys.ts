export type PadKey = "0" | "1" | "2" | "3" | "4" | "5" | "6" | "7" | "8" | "9" | "." | "<" | ">" | "±" | "⌫";

const PARTS = /^([<>]?)\s*([-−]?)(.*)$/s;

/** The text after a key of the pad: signs stand in front and change places, a second point does nothing, the rest goes to the end. */
export function afterKey(text: string, key: PadKey): string {
  const [, sign = "", minus = "", digits = ""] = PARTS.exec(text) ?? [];
  if (key === "⌫") {
    if (digits !== "") return sign + minus + digits.slice(0, -1);
    return minus !== "" ? sign : "";
  }
  if (key === "<" || key === ">") return (sign === key ? "" : key) + minus + digits;
  if (key === "±") return sign + (minus === "" ? "-" : "") + digits;
  if (key === "." && digits.includes(".")) return text;
  if (key === "." && digits === "") return `${sign}${minus}0.`;
  return sign + minus + digits + key;
}
