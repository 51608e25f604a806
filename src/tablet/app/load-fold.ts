let loaded: typeof import('./fold.ts') | null = null;

export async function loadFold(): Promise<void> {
  loaded ??= await import('./fold.ts');
}

/** The code that works answers out; whoever has a view has it. @throws before `loadFold` has ended. */
export function fold(): typeof import('./fold.ts') {
  if (!loaded) throw new Error('The code that works answers out is not loaded yet');
  return loaded;
}
