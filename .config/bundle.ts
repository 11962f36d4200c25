// How the program is bundled: what `build` (in pieces, so that commands never load the screens) and `package` (as one) share.
import { fileURLToPath } from 'node:url';
import type { BuildOptions } from 'esbuild';

export const root = fileURLToPath(new URL('..', import.meta.url));

export const bundle = {
  entryPoints: { main: `${root}src/main.ts`, worker: `${root}src/shell/thread/worker.ts` },
  bundle: true,
  format: 'esm',
  platform: 'node',
  target: 'node24',
  define: { 'process.env.NODE_ENV': '"production"' },
  // The client of PostgreSQL asks for these only where they are installed.
  external: ['pg-native', 'pg-cloudflare', 'cloudflare:sockets'],
  // Ink asks for React's developer tools only when DEV=true; as an external the bundle would crash at start.
  alias: { 'react-devtools-core': `${root}.config/empty.ts` },
  // Some bundled packages are CommonJS and expect a `require`.
  banner: { js: "import{createRequire as __cr}from'node:module';const require=__cr(import.meta.url);" },
  legalComments: 'none',
  logLevel: 'warning',
} satisfies BuildOptions;
