import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright-core";

/** Success criteria of WCAG 2.0 to 2.2, levels A and AA. */
export const WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/**
 * What axe finds wrong with a page, a line for each rule with its places and the first element; `tags` narrows the rules. It runs in the page itself,
 * which has no frames of another origin, and brings back the faults alone: every element that passed, as text, took longer than looking.
 */
export async function axeFaults(page: Page, tags?: readonly string[]): Promise<string[]> {
  const axe = new AxeBuilder({ page }).options({ resultTypes: ["violations"] }).setLegacyMode();
  const { violations } = await (tags ? axe.withTags([...tags]) : axe).analyze();
  return violations.map(({ id, nodes }) => {
    const where = nodes.map(({ target }) => target.join(" ")).join(", ");
    return `${id}: ${where}: ${nodes[0]?.html}`;
  });
}
