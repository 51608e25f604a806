import { useId } from 'preact/hooks';
import './file-button.css';

export type FileButtonProps = {
  /** The words on it. */
  label: string;
  main?: boolean | undefined;
  busy?: boolean | undefined;
  /** What the chooser offers first, e.g. `image/*`. */
  accept?: string | undefined;
  /** The tablet's camera comes in place of the chooser, where it has one. */
  camera?: boolean | undefined;
  /** Several may be chosen: each is given by itself. */
  multiple?: boolean | undefined;
  onFile: (file: File) => void;
};

/** A button that asks for a file: the system's own chooser comes. */
export function FileButton({ label, main, busy, accept, camera, multiple, onFile }: FileButtonProps) {
  const id = useId();
  return (
    <label class={`button file-button ${main ? 'main' : ''}`} htmlFor={id} aria-busy={busy}>
      {label}
      <input
        id={id}
        type="file"
        class="file-input"
        accept={accept}
        capture={camera ? 'environment' : undefined}
        multiple={multiple}
        onChange={(event) => {
          const input = event.currentTarget;
          const files = [...(input.files ?? [])];
          // The same file may be chosen again.
          input.value = '';
          for (const file of files) onFile(file);
        }}
      />
    </label>
  );
}
