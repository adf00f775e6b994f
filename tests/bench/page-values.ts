/** Values as they stand in a page of a real browser, and the moment at which each came to stand there. */
import type { Page } from "playwright-core";

const CELLS = "[data-value][data-system]";

/** Streams whose value stands in the page, as system/point/quantity. */
export async function streamsShown(page: Page): Promise<ReadonlySet<string>> {
  return new Set(
    await page.$$eval(CELLS, (cells) =>
      cells.map((cell) => {
        const { system, point, quantity } = (cell as HTMLElement).dataset;
        return `${system}/${point}/${quantity}`;
      }),
    ),
  );
}

type Told = readonly [stream: string, value: number, at: number];

/** Runs in the page, so it stands alone: tells of every value that changes or is drawn again, in one call a change of the page. */
function watchValues(tell: (batch: Told[]) => void): void {
  new MutationObserver((changes) => {
    const at = performance.timeOrigin + performance.now();
    const cells = new Set<Element>();
    for (const { target, addedNodes } of changes) {
      if (target instanceof Element && target.hasAttribute("data-value")) cells.add(target);
      for (const node of addedNodes) {
        if (!(node instanceof Element)) continue;
        if (node.hasAttribute("data-value")) cells.add(node);
        for (const cell of node.querySelectorAll("[data-value]")) cells.add(cell);
      }
    }
    if (cells.size === 0) return;
    tell(
      [...cells].map((cell) => {
        const { system, point, quantity, value } = (cell as HTMLElement).dataset;
        return [`${system}/${point}/${quantity}`, Number(value), at];
      }),
    );
  }).observe(document.body, {
    subtree: true,
    childList: true,
    attributes: true,
    attributeFilter: ["data-value"],
  });
}

/** `seen` is told of every value that comes to stand in the page from now on; `at` in milliseconds since 1970. */
export async function tellValues(
  page: Page,
  seen: (stream: string, value: number, at: number) => void,
): Promise<void> {
  await page.exposeFunction("benchTold", (batch: Told[]) => {
    for (const [stream, value, at] of batch) seen(stream, value, at);
  });
  // The loader that runs this file wraps named functions in `__name`, which a page does not have.
  await page.evaluate(`var __name = (given) => given; (${watchValues.toString()})(window.benchTold)`);
}
