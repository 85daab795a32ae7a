/** How long something is waited for that comes in a moment: longer than any machine takes, so that only what hangs fails. */
export const PATIENCE = { timeout: 300_000, interval: 50 };
