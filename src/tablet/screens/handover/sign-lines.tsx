interface Props {
  readonly outgoing: string;
  /** When it was signed; left out: not yet. */
  readonly handed?: string | undefined;
  readonly incoming: string;
  readonly taken?: string | undefined;
}

/** Who hands over and who takes over, each with a line for the signature. */
export function SignLines({ outgoing, handed, incoming, taken }: Props) {
  return (
    <div class="ho-signs">
      <Place name={outgoing} does="hands over" at={handed} />
      <Place name={incoming} does="takes over" at={taken} />
    </div>
  );
}

function Place({ name, does, at }: { name: string; does: string; at: string | undefined }) {
  return (
    <p>
      <b>{name}</b>
      <span class="small dim">{does}</span>
      <span class="n ho-line-sign">{at ?? <span class="hidden-text">not signed yet</span>}</span>
    </p>
  );
}
