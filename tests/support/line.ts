import { once } from 'node:events';
import { type AddressInfo, connect, createServer, type Socket } from 'node:net';
import { afterAll } from 'vitest';

/** A line to a server of TCP that a test can cut and mend: `url` is the server's address by way of it. */
export async function lineTo(target: string): Promise<{ url: string; cut(): Promise<void>; mend(): Promise<void> }> {
  const there = new URL(target);
  const sockets = new Set<Socket>();
  const keep = (socket: Socket) => {
    sockets.add(socket.on('error', () => socket.destroy()).on('close', () => sockets.delete(socket)));
    return socket;
  };
  const server = createServer((near) => {
    const far = keep(connect(Number(there.port), there.hostname));
    keep(near).pipe(far).pipe(near);
    near.on('close', () => far.destroy());
    far.on('close', () => near.destroy());
  });
  const mend = async (port = 0) => {
    server.listen(port, '127.0.0.1');
    await once(server, 'listening');
    return (server.address() as AddressInfo).port;
  };
  const port = await mend();
  const cut = async () => {
    const closed = once(server, 'close');
    server.close();
    for (const socket of sockets) socket.destroy();
    await closed;
  };
  afterAll(() => (server.listening ? cut() : undefined));
  const near = new URL(target);
  near.host = `127.0.0.1:${port}`;
  return { url: near.href, cut, mend: async () => void (await mend(port)) };
}
