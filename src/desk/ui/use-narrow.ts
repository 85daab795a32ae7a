import { useState } from 'preact/hooks';

/** Whether the page is shown on a phone: there, parts begin closed that a desktop shows at once. */
export const useNarrow = (): boolean => useState(() => matchMedia('(max-width: 640px)').matches)[0];
