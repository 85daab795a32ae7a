import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { preact } from '@preact/preset-vite';
import { defineConfig, type Plugin } from 'vite';

/** Where `npm start` answers while the desk is developed with `npx vite`. */
const API = 'http://127.0.0.1:4747';

/** Fonts are compressed in themselves. */
const TEXT = /\.(js|css|html|svg|json)$/;

/** Lays each file of text beside itself as .br and .gz, which the server sends to whoever takes them (src/server/desk.ts). */
const compressed = (): Plugin => ({
  name: 'compressed',
  apply: 'build',
  async writeBundle({ dir = '' }, bundle) {
    for (const name of Object.keys(bundle).filter((each) => TEXT.test(each))) {
      const content = await readFile(join(dir, name));
      await writeFile(join(dir, `${name}.br`), brotliCompressSync(content));
      await writeFile(join(dir, `${name}.gz`), gzipSync(content, { level: 9 }));
    }
  },
});

export default defineConfig({
  root: 'src/desk',
  plugins: [preact(), compressed()],
  build: {
    outDir: '../../dist/desk',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0, // the page's content security policy allows no data: addresses
  },
  server: { proxy: { '/api': API, '/openapi.json': API } },
});
