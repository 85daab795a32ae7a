// What later nouns may do with ware. Its rows are written here and nowhere else.
export { addBoard, findBoard } from './boards.js';
export { addPieces } from './intake.js';
export { addLayersToEach } from './layers.js';
export { noteEach } from './notes.js';
export { getPiecesById, listLayers, lockPieces, type StandingLayer } from './pieces.js';
