import { useState } from 'preact/hooks';

const PHONE_PX = 640;

/** Whether the page is shown on a phone, or narrower than `below`: there, parts begin closed that a desktop shows at once. */
export const useNarrow = (below = PHONE_PX): boolean =>
  useState(() => matchMedia(`(max-width: ${below}px)`).matches)[0];
