import { useId } from 'preact/hooks';
import './file-button.css';

export type FileButtonProps = {
  /** The words on it. */
  label: string;
  main?: boolean | undefined;
  busy?: boolean | undefined;
  onFile: (file: File) => void;
};

/** A button that asks for a file: the system's own chooser comes. */
export function FileButton({ label, main, busy, onFile }: FileButtonProps) {
  const id = useId();
  return (
    <label class={`button file-button ${main ? 'main' : ''}`} htmlFor={id} aria-busy={busy}>
      {label}
      <input
        id={id}
        type="file"
        class="file-input"
        onChange={(event) => {
          const input = event.currentTarget;
          const file = input.files?.[0];
          // The same file may be chosen again.
          input.value = '';
          if (file) onFile(file);
        }}
      />
    </label>
  );
}
