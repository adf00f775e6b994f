import type uPlot from "uplot";
import type { ChartData, Span } from "#app/_components/drawing/chart-data.ts";
import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { ageText } from "#core/time/age-text.ts";
import { numberText } from "#core/units/number-text.ts";

/** What the chart shows beside its line. */
export interface Scene {
  readonly data: ChartData;
  readonly nights: readonly Span[];
  readonly bands: readonly { readonly from: number; readonly to: number; readonly edges: BandEdges }[];
  readonly decimals: number;
  readonly seen: SeenAs;
  /** The value and the mark of the line's end belong to now only where the window ends there. */
  readonly endsNow: boolean;
  /** When somebody did something to the water. */
  readonly marks?: readonly { readonly at: number }[] | undefined;
  /** When a birth or hatching was or is awaited: a bar along the top, and a line where it begins and ends. */
  readonly watched?:
    | readonly { readonly from: number; readonly to: number; readonly isOver: boolean }[]
    | undefined;
  /** The same quantity elsewhere or a year before, moved to this window: a thinner, dashed line. */
  readonly other?: { readonly label: string; readonly data: ChartData } | undefined;
}

/** Colours of the ground in force, read when drawing: the reader may change it at any time. */
export function inks(element: Element) {
  const style = getComputedStyle(element);
  const of = (name: string) => style.getPropertyValue(`--${name}`).trim();
  return {
    of,
    face: getComputedStyle(document.body).fontFamily,
    size: Number.parseFloat(getComputedStyle(document.documentElement).fontSize),
  };
}
const LINE: Readonly<Record<SeenAs, string>> = {
  action: "act",
  look: "look",
  // What was read before the probe became doubtful is as good as ever: only its rings are set apart.
  unknown: "mark",
  doubtful: "mark",
  calm: "mark",
};
export const lineInk = (seen: SeenAs): string => LINE[seen];

const ratio = (): number => window.devicePixelRatio || 1;

/** Nights and target band, under the line. */
export function drawUnder(u: uPlot, scene: Scene): void {
  const { ctx, bbox } = u;
  const { of } = inks(u.root);
  const x = (at: number) => u.valToPos(at / 1000, "x", true);
  const y = (value: number) => u.valToPos(value, "y", true);
  const [left, right] = [bbox.left, bbox.left + bbox.width];
  const [top, bottom] = [bbox.top, bbox.top + bbox.height];
  const within = (from: number, to: number) => [Math.max(left, x(from)), Math.min(right, x(to))] as const;
  ctx.save();
  ctx.fillStyle = of("shade");
  for (const night of scene.nights) {
    const [a, b] = within(night.from, night.to);
    if (b > a) ctx.fillRect(a, top, b - a, bottom - top);
  }
  for (const band of scene.bands) {
    const [a, b] = within(band.from, band.to);
    if (b <= a) continue;
    const { low, high, actionLow, actionHigh } = band.edges;
    if (low !== null || high !== null) {
      const upper = high === null ? top : Math.max(top, y(high));
      const lower = low === null ? bottom : Math.min(bottom, y(low));
      ctx.fillStyle = of("band");
      ctx.fillRect(a, upper, b - a, Math.max(0, lower - upper));
      ctx.strokeStyle = of("band-edge");
      ctx.lineWidth = ratio();
      ctx.setLineDash([]);
      strokeLevels(ctx, [low, high], y, a, b);
    }
    ctx.strokeStyle = of("limit");
    ctx.lineWidth = 1.4 * ratio();
    ctx.setLineDash([5 * ratio(), 4 * ratio()]);
    strokeLevels(ctx, [actionLow, actionHigh], y, a, b);
  }
  ctx.restore();
}

function strokeLevels(
  ctx: CanvasRenderingContext2D,
  levels: readonly (number | null)[],
  y: (value: number) => number,
  from: number,
  to: number,
): void {
  ctx.beginPath();
  for (const level of levels) {
    if (level === null) continue;
    const at = Math.round(y(level)) + 0.5;
    ctx.moveTo(from, at);
    ctx.lineTo(to, at);
  }
  ctx.stroke();
}

function drawGaps(u: uPlot, scene: Scene, x: (at: number) => number): void {
  const { ctx, bbox } = u;
  const { of, face, size } = inks(u.root);
  ctx.fillStyle = of("doubt");
  ctx.textAlign = "center";
  ctx.font = `${0.72 * size * ratio()}px ${face}`;
  for (const gap of scene.data.gaps) {
    const [a, b] = [Math.max(bbox.left, x(gap.from)), Math.min(bbox.left + bbox.width, x(gap.to))];
    const words = `no data ${ageText(gap.to - gap.from)}`;
    if (b - a > ctx.measureText(words).width + 4)
      ctx.fillText(words, (a + b) / 2, bbox.top + bbox.height - 5 * ratio());
  }
}

function drawBench(u: uPlot, scene: Scene, x: (at: number) => number, y: (v: number) => number): void {
  const { ctx } = u;
  const { of } = inks(u.root);
  const half = 4 * ratio();
  ctx.strokeStyle = of("mark");
  ctx.fillStyle = of("paper");
  ctx.lineWidth = 1.6 * ratio();
  for (const { at, value, qualifier } of scene.data.bench) {
    const [cx, cy] = [x(at), y(value)];
    ctx.fillRect(cx - half, cy - half, 2 * half, 2 * half);
    ctx.strokeRect(cx - half, cy - half, 2 * half, 2 * half);
    if (qualifier === "=") continue;
    // Less (or more) than the method can tell: an arrow to the side on which the truth lies.
    const way = qualifier === "<" ? 1 : -1;
    ctx.beginPath();
    ctx.moveTo(cx, cy + way * half);
    ctx.lineTo(cx, cy + way * 3 * half);
    ctx.moveTo(cx - half * 0.7, cy + way * 2.2 * half);
    ctx.lineTo(cx, cy + way * 3 * half);
    ctx.lineTo(cx + half * 0.7, cy + way * 2.2 * half);
    ctx.stroke();
  }
}

function drawMarks(u: uPlot, marks: readonly { readonly at: number }[], x: (at: number) => number): void {
  const { ctx, bbox } = u;
  ctx.strokeStyle = inks(u.root).of("ink-soft");
  ctx.lineWidth = ratio();
  ctx.setLineDash([1.5 * ratio(), 3 * ratio()]);
  ctx.beginPath();
  for (const { at } of marks) {
    const place = Math.round(x(at)) + 0.5;
    ctx.moveTo(place, bbox.top);
    ctx.lineTo(place, bbox.top + bbox.height);
  }
  ctx.stroke();
  ctx.setLineDash([]);
}

function drawWatched(u: uPlot, watched: NonNullable<Scene["watched"]>, x: (at: number) => number): void {
  const { ctx, bbox } = u;
  const { of } = inks(u.root);
  const [left, right] = [bbox.left, bbox.left + bbox.width];
  for (const { from, to, isOver } of watched) {
    const [begins, ends] = [x(from), Number.isFinite(to) ? x(to) : right];
    const [a, b] = [Math.max(left, begins), Math.min(right, ends)];
    if (b <= a) continue;
    ctx.fillStyle = of(isOver ? "look" : "sweep");
    ctx.fillRect(a, bbox.top, b - a, 3 * ratio());
    for (const [edge, isInside] of [
      [begins, begins >= left],
      [ends, ends < right],
    ] as const)
      if (isInside) ctx.fillRect(Math.round(edge), bbox.top, ratio(), bbox.height);
  }
}

function drawOther(u: uPlot, data: ChartData, x: (at: number) => number, y: (v: number) => number): void {
  const { ctx } = u;
  ctx.save();
  ctx.strokeStyle = inks(u.root).of("ink-soft");
  ctx.lineWidth = 1.2 * ratio();
  ctx.setLineDash([4 * ratio(), 3 * ratio()]);
  ctx.beginPath();
  let isDown = false;
  data.at.forEach((at, i) => {
    const value = data.mean[i];
    if (value == null) isDown = false;
    else if (isDown) ctx.lineTo(x(at), y(value));
    else {
      ctx.moveTo(x(at), y(value));
      isDown = true;
    }
  });
  ctx.stroke();
  ctx.restore();
}

function drawEnd(u: uPlot, scene: Scene, x: (at: number) => number, y: (v: number) => number): void {
  const last = scene.data.last;
  if (last === null || !scene.endsNow) return;
  const { ctx } = u;
  const { of, face, size } = inks(u.root);
  ctx.fillStyle = of(lineInk(scene.seen));
  ctx.beginPath();
  ctx.arc(x(last.at), y(last.value), 3.4 * ratio(), 0, 2 * Math.PI);
  ctx.fill();
  ctx.textAlign = "left";
  ctx.textBaseline = "middle";
  ctx.font = `640 ${0.84 * size * ratio()}px ${face}`;
  ctx.fillText(numberText(last.value, scene.decimals), x(last.at) + 8 * ratio(), y(last.value));
}

/** What lies over the line: gaps in words, suspect readings as rings, bench squares, the latest value at the line's end. */
export function drawOver(u: uPlot, scene: Scene): void {
  const { ctx, bbox } = u;
  const x = (at: number) => u.valToPos(at / 1000, "x", true);
  const held = (v: number) => Math.max(bbox.top, Math.min(bbox.top + bbox.height, u.valToPos(v, "y", true)));
  const { of } = inks(u.root);
  ctx.save();
  ctx.setLineDash([]);
  ctx.save();
  ctx.beginPath();
  const room = 5 * ratio();
  ctx.rect(bbox.left, bbox.top - room, bbox.width + room, bbox.height + 2 * room);
  ctx.clip();
  if (scene.marks !== undefined && scene.marks.length > 0) drawMarks(u, scene.marks, x);
  if (scene.watched !== undefined) drawWatched(u, scene.watched, x);
  if (scene.other !== undefined) drawOther(u, scene.other.data, x, held);
  ctx.strokeStyle = of("doubt");
  ctx.lineWidth = 1.3 * ratio();
  for (const { at, value } of scene.data.suspect) {
    ctx.beginPath();
    ctx.arc(x(at), held(value), 2.6 * ratio(), 0, 2 * Math.PI);
    ctx.stroke();
  }
  drawBench(u, scene, x, held);
  drawGaps(u, scene, x);
  ctx.restore();
  drawEnd(u, scene, x, held);
  ctx.restore();
}
