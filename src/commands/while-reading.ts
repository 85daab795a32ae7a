/**
 * Waits for what opens while the code that goes on with it is read: PostgreSQL takes about as long to start as this process to read the
 * greater part of the program.
 */
export async function whileReading<T extends { close(): Promise<void> }, M>(
  opening: Promise<T>,
  read: () => Promise<M>,
): Promise<[T, M]> {
  const reading = read();
  reading.catch(() => undefined); // told of below, unless opening fails, whose reason comes first
  const opened = await opening;
  try {
    return [opened, await reading];
  } catch (error) {
    await opened.close();
    throw error;
  }
}
