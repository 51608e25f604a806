import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import preact from '@preact/preset-vite';
import { VitePWA } from 'vite-plugin-pwa';
import { defineConfig } from 'vitest/config';

const here = fileURLToPath(new URL('.', import.meta.url));

/** Names the code that works the screens' state out of the log: a build with other code makes that state anew. */
function foldHash(): string {
  const hash = createHash('sha256');
  for (const folder of ['shared', 'src/tablet'])
    for (const file of (readdirSync(join(here, folder), { recursive: true }) as string[]).sort())
      if (/\.tsx?$/.test(file)) hash.update(readFileSync(join(here, folder, file)));
  return hash.digest('hex').slice(0, 16);
}

export default defineConfig({
  define: { __FOLD__: JSON.stringify(foldHash()) },
  root: 'src/tablet',
  publicDir: '../../public',
  build: {
    outDir: '../../dist/tablet',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: {
      polyfill: false,
      // A screen's scripts find each other; naming them all up front costs the first load more than it saves later.
      resolveDependencies: (_, files, { hostType }) =>
        hostType === 'html' ? files : files.filter((file) => file.endsWith('.css')),
    },
    rolldownOptions: {
      output: {
        // What every screen needs comes in two pieces that compress well, not in a dozen that do not.
        codeSplitting: {
          groups: [
            { name: 'libraries', test: /node_modules\/(dexie|preact|@preact|zod|@noble|canonicalize|date-fns)\// },
            {
              name: 'core',
              test: /rolldown.runtime|shared\/logbook\/((?!state\/|standing|knowledge)[a-z-]+\.ts)|src\/tablet\/storage\/(casting-store|database|keys|segments|read-log|now-row|first-frame|in-idle-time)\.ts|src\/tablet\/app\/(tablet|now-shard)\.ts/,
            },
            // What works answers out of the log; the first frame of a long log does not want it.
            {
              name: 'fold',
              test: /shared\/logbook\/(standing|knowledge|state\/(conditions|findings|holds|sequence|sheets|readings|instruments|view|memo|plans|strikes|stations-asked|measures|derived-value|next-step))\.ts|shared\/plan\/(lookup|design)\.ts|src\/tablet\/app\/(fold|work-out|frame-facts|spine|gate-state)\.ts/,
            },
            // What that first frame is drawn with: one file, so that it does not wait for the next.
            {
              name: 'at-once',
              includeDependenciesRecursively: false,
              test: /screens\/now\/(at-once|handover-waits|arrangements-line|note-line)\.tsx|shared-screens\/(finding-link|due-words|arrangement-words)\.tsx?$|parts\/condition-mark\.tsx|shared\/logbook\/state\/(rounds-now|arrangement-status)\.ts|src\/tablet\/app\/(use-draft|was-kept|use-typing-anywhere)\.ts|storage\/draft-row\.ts|acts\/(save|notes)\.ts/,
            },
          ],
        },
      },
    },
  },
  // Dexie's own build for browsers that know ES modules: the same code, two kilobytes less than its wrapped one.
  resolve: { alias: { dexie: 'dexie/dist/modern/dexie.min.mjs' } },
  plugins: [
    preact(),
    VitePWA({
      strategies: 'generateSW',
      registerType: 'prompt',
      injectRegister: false,
      manifest: {
        name: 'Lehrbook',
        short_name: 'Lehrbook',
        description: 'Logbook for the casting of large honeycomb mirror blanks',
        display: 'standalone',
        orientation: 'any',
        start_url: '/',
        background_color: '#e6ece6',
        theme_color: '#e6ece6',
        icons: [
          { src: '/icon.svg', sizes: 'any', type: 'image/svg+xml' },
          { src: '/icon-192.png', sizes: '192x192', type: 'image/png' },
          { src: '/icon-512.png', sizes: '512x512', type: 'image/png' },
          { src: '/icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
      workbox: {
        globPatterns: ['**/*.{js,css,html,svg,png,woff2}'],
        // Only the latin subset is drawn; the others would cost the first visit a megabyte.
        globIgnores: ['**/*-{cyrillic,greek,vietnamese,latin-ext}*'],
        navigateFallback: '/index.html',
        cleanupOutdatedCaches: true,
        // The first visit is kept from the start: the screens it has not opened come from the worker, not the network.
        clientsClaim: true,
      },
    }),
  ],
  test: {
    projects: [
      {
        extends: true,
        root: here,
        test: {
          name: 'unit',
          // Nothing timed gates a test: a busy machine is only slow.
          testTimeout: 60_000,
          hookTimeout: 60_000,
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/browser/**', 'tests/bench/**', 'tests/server/**'],
          environment: 'node',
        },
      },
      {
        extends: true,
        root: here,
        test: {
          name: 'server',
          include: ['tests/server/**/*.test.ts'],
          environment: 'node',
          // These start programs of their own, which a busy machine may keep waiting.
          testTimeout: 120_000,
          hookTimeout: 120_000,
        },
      },
      {
        extends: true,
        root: here,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          environment: 'node',
          testTimeout: 240_000,
          hookTimeout: 120_000,
          expect: { poll: { timeout: 60_000 } },
          fileParallelism: false,
        },
      },
    ],
  },
});
