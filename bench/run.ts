// npm run bench: what the trade's arithmetic takes, against the way in which a competent person would work out the same, as exactly, in
// the same run. It fails where the two differ.
import { inPageBench } from './in-page.js';
import { outlookBench } from './outlook.js';
import { priceBench } from './price.js';

priceBench();
await inPageBench();
outlookBench();
