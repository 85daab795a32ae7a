// What later nouns may do with ware. Its rows are written here and nowhere else.
export { addBoard, board } from './boards.js';
export { addPieces } from './intake.js';
export { addLayersToEach, noteEach } from './notes.js';
export { layersOf, lockPieces, pieces } from './pieces.js';
