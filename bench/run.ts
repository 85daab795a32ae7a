// npm run bench: what the trade's arithmetic takes, against a naive way of the same in the same run. It fails where the two differ.
import { inPageBench } from './in-page.js';
import { outlookBench } from './outlook.js';
import { priceBench } from './price.js';

priceBench();
await inPageBench();
outlookBench();
