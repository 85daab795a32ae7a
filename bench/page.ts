// What runs in the browser's page; in-page.ts builds it as the desk is built.
import { inTurn, type Rounds } from './measure.js';
import { full, fullToThePenny } from './price.js';

declare global {
  var priceRounds: () => Rounds;
}

globalThis.priceRounds = () =>
  inTurn({ name: 'coursePrice and sensitivities', run: full }, { name: 'to the penny', run: fullToThePenny });
