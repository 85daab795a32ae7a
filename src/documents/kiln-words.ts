/**
 * Cautions around an electric kiln. What they warn of is what HSE's Ceramics Information Sheet 3 names (shock, burns, fire, fumes
 * during some firings, manual handling); how they ask for it is common practice. The kiln's manual and the rules of the place go first.
 */
const ISOLATE = 'Isolate the kiln at its switch before you load or unload it, or touch an element.';
const FUMES =
  'Ventilate the kiln room to the outside before and while it fires: firings give off carbon monoxide and sulphur fumes, wax and lustre smoke too.';
const LIFT = 'Kiln shelves are heavy: lift them with bent knees, or with somebody.';
const ATTEND = 'Keep what can burn away from the kiln, and follow its manual and any rules about unattended firing.';
const COLD =
  'Open only when cold, as the kiln’s manual says (common practice: below 100 °C inside): hot ware can crack and burn.';
const SHARP = 'Glaze and stilts cut: wear gloves and eye protection.';

export const ELECTRICIAN = 'Have elements, wiring and controllers looked at by a qualified electrician.';

/** What to mind before a kiln is fired: loading it, and starting it. */
export const BEFORE_FIRING = [ISOLATE, LIFT, FUMES, ATTEND] as const;
/** What to mind until it is empty again. */
export const UNTIL_UNLOADED = [COLD, FUMES, ISOLATE, SHARP] as const;
/** Of ware that was glazed raw and is fired once. */
export const SINGLE_FIRING =
  'Some of it was glazed raw: it must be bone dry, and fired as slowly as a bisque until it has no water left.';
