import { SHEETS_FIRST } from './hazard-words.js';

/** Of whatever is mixed here, since nobody else speaks for it. */
export const NOT_TESTED = 'Not tested for food use. Only a laboratory test of fired ware can show that.';

/** Before a bag is opened, where dry glaze is weighed: wet cleaning and masks as HSE's Ceramics sheets CR0 to CR4 ask, the rest common practice. */
export const MIX_CAUTIONS = [
  'Breathing the dust can cause lasting lung damage. Wear a fit-tested FFP3 mask while you weigh, pour and sieve; clean up wet, never sweep.',
  'Water first: add the powder gently to the water, never water to the powder.',
  'No food or drink near it. Wear gloves where a data sheet asks for them.',
  'Full bags and buckets are heavy: lift with bent knees, share the load, or move it a part at a time.',
  SHEETS_FIRST,
  NOT_TESTED,
];
