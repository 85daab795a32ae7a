import { buildDesk } from '../built.js';

/** A browser is served the desk as it was built, and it must be that of these sources. */
export default buildDesk;
