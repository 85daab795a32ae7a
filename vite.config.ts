import { preact } from '@preact/preset-vite';
import { defineConfig } from 'vite';

/** Where `npm start` answers while the desk is developed with `npx vite`. */
const API = 'http://127.0.0.1:4747';

export default defineConfig({
  root: 'src/desk',
  plugins: [preact()],
  build: {
    outDir: '../../dist/desk',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0, // the page's content security policy allows no data: addresses
  },
  server: { proxy: { '/api': API, '/openapi.json': API } },
});
