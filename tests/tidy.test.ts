import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));

function filesIn(folder: string): string[] {
  return readdirSync(join(root, folder)).flatMap((name) => {
    const path = join(folder, name);
    return statSync(join(root, path)).isDirectory() ? filesIn(path) : [path];
  });
}

const sources = [...filesIn('shared'), ...filesIn('src')].filter((f) => /\.tsx?$/.test(f));
const textOf = (file: string): string => readFileSync(join(root, file), 'utf8');

/** The files and packages that a file imports, static and dynamic, project files from the root. */
function importsOf(file: string): string[] {
  const text = textOf(file);
  const named = [
    ...text.matchAll(/^(?:import|export)\s[^;']*?from\s+'([^']+)'/gm),
    ...text.matchAll(/^import\s+'([^']+)'/gm),
    ...text.matchAll(/\bimport\(\s*'([^']+)'/g),
  ].map((m) => m[1]!);
  return named.map((name) => (name.startsWith('.') ? relative(root, join(root, file, '..', name)) : name));
}

/** Which folders a layer may import from; packages are judged apart. */
const layers: readonly [from: string, may: readonly string[]][] = [
  ['shared/calculations/', ['shared/calculations/', 'shared/logbook/canonical.ts', 'shared/logbook/merkle.ts']],
  ['shared/plan/', ['shared/plan/', 'shared/calculations/']],
  ['shared/logger/', ['shared/logger/', 'shared/plan/', 'shared/calculations/']],
  ['shared/logbook/', ['shared/logbook/', 'shared/logger/', 'shared/plan/', 'shared/calculations/']],
  ['shared/furnace/', ['shared/furnace/', 'shared/logbook/', 'shared/plan/', 'shared/calculations/']],
  ['shared/practice/', ['shared/']],
  ['shared/sync/', ['shared/']],
  ['src/tablet/parts/', ['src/tablet/parts/']],
  ['src/tablet/storage/', ['src/tablet/storage/', 'shared/']],
  ['src/tablet/sync/', ['src/tablet/sync/', 'src/tablet/storage/', 'shared/']],
  [
    'src/tablet/app/',
    [
      'src/tablet/app/',
      'src/tablet/parts/',
      'src/tablet/sync/',
      'src/tablet/storage/',
      'shared/',
      'src/tablet/screens/',
    ],
  ],
  ['src/tablet/acts/', ['src/tablet/acts/', 'src/tablet/app/', 'src/tablet/sync/', 'src/tablet/storage/', 'shared/']],
  [
    'src/tablet/shared-screens/',
    [
      'src/tablet/shared-screens/',
      'src/tablet/acts/',
      'src/tablet/app/',
      'src/tablet/parts/',
      'src/tablet/storage/',
      'shared/',
    ],
  ],
  ['src/tablet/screens/', ['src/tablet/', 'shared/']],
  ['src/server/', ['src/server/', 'shared/']],
  ['src/cli/', ['src/cli/', 'src/server/', 'shared/', 'tests/external/data/']],
];

describe('the layers', () => {
  it('import one way', () => {
    const wrong = sources.flatMap((file) => {
      const layer = layers.find(([from]) => file.startsWith(from));
      if (!layer) return [];
      const inside = importsOf(file).filter((i) => /^(shared|src|tests)\//.test(i));
      return inside.filter((i) => !layer[1].some((may) => i.startsWith(may))).map((i) => `${file} imports ${i}`);
    });
    expect(wrong).toEqual([]);
  });

  it('let only the router name screens in the app folder', () => {
    const wrong = sources.filter(
      (f) =>
        f.startsWith('src/tablet/app/') &&
        f !== 'src/tablet/app/app.tsx' &&
        importsOf(f).some((i) => i.startsWith('src/tablet/screens/')),
    );
    expect(wrong).toEqual([]);
  });

  it('keep one screen out of another: what several show stands in shared-screens', () => {
    const screenOf = (file: string): string | undefined => file.match(/^src\/tablet\/screens\/[^/]+/)?.[0];
    const wrong = sources.flatMap((f) =>
      screenOf(f) === undefined
        ? []
        : importsOf(f)
            .filter((i) => screenOf(i) !== undefined && screenOf(i) !== screenOf(f))
            .map((i) => `${f} imports ${i}`),
    );
    expect(wrong).toEqual([]);
  });

  it('touch IndexedDB in storage alone', () => {
    const wrong = sources.filter(
      (f) =>
        !f.startsWith('src/tablet/storage/') && (importsOf(f).includes('dexie') || /\bindexedDB\b/.test(textOf(f))),
    );
    expect(wrong).toEqual([]);
  });

  it('give shared only small pure libraries', () => {
    const allowed = /^(zod\/mini|date-fns\/|@noble\/hashes\/|canonicalize$|papaparse$|@stdlib\/)/;
    const wrong = sources.flatMap((f) =>
      f.startsWith('shared/')
        ? importsOf(f)
            .filter((i) => !/^shared\//.test(i) && !allowed.test(i))
            .map((i) => `${f} imports ${i}`)
        : [],
    );
    expect(wrong).toEqual([]);
  });

  it('keep the full zod off the tablet', () => {
    expect(sources.filter((f) => /^(shared|src\/tablet)\//.test(f) && importsOf(f).some((i) => i === 'zod'))).toEqual(
      [],
    );
  });
});

describe('shared code', () => {
  it('reads no clock and rolls no dice', () => {
    const impure =
      /\bDate\.now\(|\bnew Date\(\s*\)|\bMath\.random\(|\bperformance\.now\(|\bcrypto\.(getRandom|randomUUID)/;
    expect(sources.filter((f) => f.startsWith('shared/') && impure.test(textOf(f)))).toEqual([]);
  });
});

describe('the documents', () => {
  it('give a reason for every package that ships or builds', () => {
    const { dependencies, devDependencies } = JSON.parse(textOf('package.json')) as Record<
      string,
      Record<string, string>
    >;
    const reasons = textOf('docs/decisions/0001-libraries.md');
    expect(Object.keys({ ...dependencies, ...devDependencies }).filter((name) => !reasons.includes(name))).toEqual([]);
  });

  it('open the README with the job in one paragraph', () => {
    const [title, paragraph] = textOf('README.md').split('\n\n');
    expect(title).toBe('# Lehrbook');
    expect(paragraph).toMatch(/logbook.*honeycomb.*hold point/);
  });

  it('name only scripts that exist', () => {
    const { scripts } = JSON.parse(textOf('package.json')) as { scripts: Record<string, string> };
    const named = ['README.md', 'DEVELOPERS.md'].flatMap((f) =>
      [...textOf(f).matchAll(/npm (?:run (?:--silent )?)?([a-z]+)/g)].map((m) => m[1]!),
    );
    expect([...new Set(named)].filter((name) => !(name in scripts) && !['ci', 'run'].includes(name))).toEqual([]);
  });
});
