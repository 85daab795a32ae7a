// What runs in the browser's page; in-page.ts builds it as the desk is built.
import { inTurn, type Rounds } from './measure.js';
import { floorByTrying, full } from './price.js';

declare global {
  var priceRounds: () => Rounds;
}

globalThis.priceRounds = () =>
  inTurn({ name: 'coursePrice and sensitivities', run: full }, { name: 'floor by halving', run: floorByTrying });
