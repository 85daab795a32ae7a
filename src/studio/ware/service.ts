// What later nouns may do with ware. Its rows are written here and nowhere else.
export { addBoard, board } from './boards.js';
export { addPieces } from './intake.js';
export { addLayers, noteEach, recordStage } from './notes.js';
export { layersOf, lockPieces, pieceStory, pieces } from './pieces.js';
