/** Stands on the sheet concerned: what happened, what is safe, what to do, its code. */
export function Problem({ title, words, safe, code }: { title: string; words: string; safe?: string; code?: string }) {
  return (
    <div class="sheet error" role="alert">
      <b>{title}</b>
      <p>{words}</p>
      {safe && <p>{safe}</p>}
      {code && <p class="n">{code}</p>}
    </div>
  );
}
