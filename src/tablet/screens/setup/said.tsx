/** What was just done, in words. */
export function Said({ words }: { words: string | null | undefined }) {
  if (!words) return null;
  return (
    <p class="setup-said" role="status">
      {words}
    </p>
  );
}
