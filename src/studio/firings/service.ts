// What later nouns, the demo and the commands may do with firings.

export { billFiring } from './billing.js';
export { announceReady } from './collection-notices.js';
export { firingCost } from './cost.js';
export { fillInWords, fillOf, listKilnFills } from './fill.js';
export { giveAway } from './giving-away.js';
export { cautionsInKilns } from './hazards.js';
export { roomFilledMm3 } from './loaded-ware.js';
export { loadFiring } from './loading.js';
export { moveFiring, planFiring } from './plan.js';
export { addReading } from './readings.js';
export { settleFiring } from './settlement.js';
export { startFiring } from './start.js';
export { firing, firings } from './to-api.js';
export { failFiring, unloadFiring } from './unloading.js';
export { unusedRoom } from './unused-room.js';
