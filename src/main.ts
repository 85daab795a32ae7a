#!/usr/bin/env node
import { runCommand } from './commands/program.js';

await runCommand(process.argv);
