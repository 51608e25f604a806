/** Writes a symbol with its indices: "t_p", "L_20", "10^-6", "alpha_{glass}" as given, "_" lowered and "^" raised. */
export function WorkingSymbol({ text }: { text: string }) {
  const parts = text.split(/([_^](?:\{[^}]*\}|[\p{L}\p{N}\u2212+-]+))/u);
  return (
    <>
      {parts.map((part, i) => {
        if (i % 2 === 0) return part;
        const index = part.slice(1).replace(/[{}]/g, '').replace('-', '\u2212');
        return part.startsWith('_') ? <sub key={i}>{index}</sub> : <sup key={i}>{index}</sup>;
      })}
    </>
  );
}
