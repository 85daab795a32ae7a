// What later nouns, the demo and the commands may do with firings.

export { billFiring } from './billing.js';
export { announceReady } from './collection-notices.js';
export { getFiringCost } from './cost.js';
export { fillInWords, getUsualFill, getUsualFills, listKilnFills } from './fill.js';
export { giveAway } from './giving-away.js';
export { cautionsInKilns } from './hazards.js';
export { loadFiring } from './loading.js';
export { moveFiring, planFiring } from './plan.js';
export { addReading } from './readings.js';
export { settleFiring } from './settlement.js';
export { startFiring } from './start.js';
export { getFiring, listFirings } from './to-api.js';
export { failFiring, unloadFiring } from './unloading.js';
export { getUnusedRoom } from './unused-room.js';
