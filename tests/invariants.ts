export { findBrokenRules } from '../src/database/rules.js';
