import { decimalIn } from '../maths/number.js';
import type { VesselShape } from './vessel-shapes.js';

/** Writes numbers of a path to one decimal, so that the same pot gives the same text everywhere. */
function path(texts: TemplateStringsArray, ...numbers: number[]): string {
  return texts
    .map((text, i) => (i === 0 ? '' : String(Math.round((numbers[i - 1] ?? 0) * 10) / 10 + 0)) + text)
    .join('');
}

/**
 * The side view of a pot as an SVG path in mm: it stands on y = 0, rises to y = -heightMm, and fills the width about
 * x = 0 (a mug with its handle), so that pots drawn beside each other are to scale.
 *
 * @throws RangeError on a size outside 1..2000 mm
 */
export function profilePath(form: VesselShape, widthMm: number, heightMm: number): string {
  decimalIn(widthMm, 'The width in mm', 1, 2000);
  decimalIn(heightMm, 'The height in mm', 1, 2000);
  return PATHS[form](widthMm / 2, heightMm);
}

/** One path for each form, from half its width x and its height h. */
const PATHS: Record<VesselShape, (x: number, h: number) => string> = {
  cylinder: (x, h) =>
    path`M${-x} ${-h} L${-x * 0.98} ${-h * 0.04} L${-x * 0.92} 0 H${x * 0.92} L${x * 0.98} ${-h * 0.04} L${x} ${-h} Z`,
  mug: (x, h) => {
    // the body stands on the left, its handle takes the last quarter of the width
    const left = -x;
    const right = x * 0.48;
    const in1 = x * 0.02;
    const in2 = x * 0.1;
    return (
      path`M${left} ${-h} C${left} ${-h * 0.5} ${left + in1} ${-h * 0.12} ${left + in2} 0 H${right - in2} ` +
      path`C${right - in1} ${-h * 0.12} ${right} ${-h * 0.5} ${right} ${-h} Z ` +
      path`M${right} ${-h * 0.82} C${x * 1.17} ${-h * 0.92} ${x * 1.17} ${-h * 0.22} ${right} ${-h * 0.24} ` +
      path`V${-h * 0.34} C${x * 0.98} ${-h * 0.34} ${x * 0.98} ${-h * 0.8} ${right} ${-h * 0.72} Z`
    );
  },
  bowl: (x, h) =>
    path`M${-x} ${-h} C${-x * 0.96} ${-h * 0.42} ${-x * 0.62} ${-h * 0.14} ${-x * 0.36} ${-h * 0.08} L${-x * 0.38} 0 ` +
    path`H${x * 0.38} L${x * 0.36} ${-h * 0.08} C${x * 0.62} ${-h * 0.14} ${x * 0.96} ${-h * 0.42} ${x} ${-h} Z`,
  plate: (x, h) =>
    path`M${-x} ${-h} L${-x * 0.66} ${-h * 0.18} L${-x * 0.6} 0 H${x * 0.6} L${x * 0.66} ${-h * 0.18} L${x} ${-h} ` +
    path`L${x * 0.62} ${-h * 0.5} H${-x * 0.62} Z`,
  box: (x, h) => path`M${-x} ${-h} V0 H${x} V${-h} Z`,
  jar: (x, h) =>
    path`M${-x * 0.55} ${-h * 0.84} C${-x * 1.25} ${-h * 0.6} ${-x * 1.05} ${-h * 0.12} ${-x * 0.6} 0 H${x * 0.6} ` +
    path`C${x * 1.05} ${-h * 0.12} ${x * 1.25} ${-h * 0.6} ${x * 0.55} ${-h * 0.84} Z ` +
    // the lid, and its knob
    path`M${-x * 0.62} ${-h * 0.84} H${x * 0.62} C${x * 0.5} ${-h * 0.92} ${x * 0.2} ${-h * 0.91} ${x * 0.12} ${-h * 0.94} ` +
    path`C${x * 0.2} ${-h * 1.02} ${-x * 0.2} ${-h * 1.02} ${-x * 0.12} ${-h * 0.94} ` +
    path`C${-x * 0.2} ${-h * 0.91} ${-x * 0.5} ${-h * 0.92} ${-x * 0.62} ${-h * 0.84} Z`,
  bottle: (x, h) =>
    path`M${-x * 0.3} ${-h} C${-x * 0.3} ${-h * 0.7} ${-x * 1.1} ${-h * 0.62} ${-x} ${-h * 0.3} ` +
    path`C${-x * 0.95} ${-h * 0.1} ${-x * 0.8} 0 ${-x * 0.7} 0 H${x * 0.7} ` +
    path`C${x * 0.8} 0 ${x * 0.95} ${-h * 0.1} ${x} ${-h * 0.3} C${x * 1.1} ${-h * 0.62} ${x * 0.3} ${-h * 0.7} ${x * 0.3} ${-h} Z`,
  pinchPot: (x, h) =>
    path`M${-x * 0.8} ${-h} C${-x * 1.24} ${-h * 0.55} ${-x * 0.93} ${-h * 0.02} ${-x * 0.3} 0 H${x * 0.25} ` +
    path`C${x * 0.95} ${-h * 0.03} ${x * 1.17} ${-h * 0.6} ${x * 0.85} ${-h * 0.94} Q0 ${-h * 0.86} ${-x * 0.8} ${-h} Z`,
  tile: (x, h) => path`M${-x} 0 V${-h} H${x} V0 Z`,
};
