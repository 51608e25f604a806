/** A long log is being read: a rule that fills, with figures. What is stored is safe meanwhile. */
export function ReadingLog({ done, of }: { done: number; of: number }) {
  return (
    <main class="empty">
      <p>
        Reading the log, <span class="n">{done}</span> of <span class="n">{of}</span>
      </p>
      <progress value={done} max={of} aria-label="Reading the log" />
    </main>
  );
}
