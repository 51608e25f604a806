import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Page } from 'playwright-core';
import { build } from 'vite';
import { buildApp } from '../server/app-alone.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

/**
 * The built app, with the page that imports a long log beside it on one address, so that they share the browser's
 * storage; and the bare page on an address of its own, where the app's worker does not answer for it.
 */
export class Lab {
  private constructor(
    private readonly folder: string,
    private readonly servers: readonly FastifyInstance[],
    private readonly ports = servers.map((server) => (server.server.address() as AddressInfo).port),
  ) {}

  /** @param pages of this folder that stand beside the app */
  static async open(pages: readonly string[] = ['import-page', 'kill-page']): Promise<Lab> {
    const folder = mkdtempSync(join(tmpdir(), 'lehrbook-bench-'));
    const [app, bare] = [join(folder, 'app'), join(folder, 'bare')];
    cpSync(join(root, 'dist/tablet'), app, { recursive: true });
    mkdirSync(bare);
    for (const page of pages) await addPage(app, page);
    await addPage(bare, 'bare-page');
    return new Lab(folder, [await serve(app), await serve(bare)]);
  }

  app(path: string): string {
    return `http://localhost:${this.ports[0]}${path}`;
  }

  bare(path: string): string {
    return `http://localhost:${this.ports[1]}${path}`;
  }

  /** Ends the app's server: from here on its worker answers. */
  async endApp(): Promise<void> {
    await this.servers[0]!.close();
  }

  async close(): Promise<void> {
    await Promise.all(this.servers.map((server) => server.close()));
    rmSync(this.folder, { recursive: true, force: true });
  }
}

async function serve(folder: string): Promise<FastifyInstance> {
  const server = await buildApp(folder);
  await server.listen({ port: 0, host: '127.0.0.1' });
  return server;
}

/**
 * Builds a page of the bench into a folder that is served.
 * @param entry its script, under tests/bench
 * @param before scripts beside it that are loaded first
 */
export async function addPage(
  folder: string,
  name: string,
  entry = name,
  before: readonly string[] = [],
): Promise<void> {
  await build({
    configFile: false,
    root,
    base: '/bench/',
    logLevel: 'error',
    define: { __FOLD__: '"bench"' },
    build: {
      outDir: join(folder, 'bench'),
      emptyOutDir: false,
      target: 'es2022',
      lib: { entry: join(root, `tests/bench/${entry}.ts`), formats: ['es'], fileName: name },
    },
  });
  const scripts = before.map((file) => `<script src="/bench/${file}"></script>`).join('');
  writeFileSync(
    join(folder, 'bench', `${name}.html`),
    `<!doctype html><meta charset="utf-8"><title>${name}</title><body>${scripts}<script type="module" src="/bench/${name}.js"></script>`,
  );
}

/** Slows the page's processor down over the browser's protocol, before anything is loaded. */
export async function throttle(page: Page, rate: number): Promise<void> {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate });
}

export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
}
