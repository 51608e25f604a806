import { Overlay } from '../parts/overlay.tsx';
import { saveFailure } from './save-failure.ts';

/** Says that something was not saved, and what is safe. */
export function SaveFailure() {
  if (saveFailure.value === null) return null;
  const close = () => {
    saveFailure.value = null;
  };
  return (
    <Overlay title="Not saved" onClose={close}>
      <p role="alert">
        <b>The entry was not kept.</b> What you typed still stands on the screen; everything saved before is safe.
      </p>
      <p>
        Try it once more. If it happens again, look in Setup at the storage of this tablet, and write on paper
        meanwhile.
      </p>
      <p class="n small">{saveFailure.value}</p>
    </Overlay>
  );
}
