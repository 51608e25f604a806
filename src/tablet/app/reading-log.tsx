import { readingLog } from './tablet.ts';

/** A long log is being read: a rule that fills, with figures. What is stored is safe meanwhile. */
export function ReadingLog() {
  const { done, of } = readingLog.value ?? { done: 0, of: 0 };
  return (
    <main class="empty">
      <h1>Reading the log</h1>
      <p>
        {done < of ? (
          <>
            <span class="n">{done}</span> of <span class="n">{of}</span> parts read.
          </>
        ) : (
          'Working out where the casting stands.'
        )}{' '}
        What is stored is safe. <a href="/">Now</a> shows what is due meanwhile.
      </p>
      <progress value={done} max={of || 1} aria-label="Reading the log" />
    </main>
  );
}
