/** A casting's id in groups of four, as it is written on the sheet beside the furnace. */
export const inGroups = (id: string): string[] => id.match(/.{1,4}/g) ?? [];

/** The fingerprint of a casting, large enough to be compared across a table. */
export function Fingerprint({ casting }: { casting: string }) {
  return (
    <p class="fingerprint n">
      {inGroups(casting).map((group, i) => (
        <span key={i}>{group} </span>
      ))}
    </p>
  );
}
