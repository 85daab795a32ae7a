import { buildProgram } from '../built.js';

/** What the tests start as people do is built code, and it must be that of these sources. */
export default buildProgram;
