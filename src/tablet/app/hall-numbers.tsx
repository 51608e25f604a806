import { useEffect } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { Overlay } from '../parts/overlay.tsx';
import { hallAsked } from './hall-asked.ts';
import { HallCard } from './hall-card.tsx';
import { hallNow } from './hall-now.ts';

const close = () => {
  hallAsked.value = false;
};

/** Stands once in the app: the hall's emergency numbers over whatever screen is open. */
export function HallNumbers() {
  const { url } = useLocation();
  // Whoever follows a link has left it.
  useEffect(() => close, [url]);
  const hall = hallNow();
  return (
    <Overlay title="Emergency numbers" onClose={close}>
      <HallCard hall={hall} />
      {hall && (
        <a class="button wide" href="/hall">
          The page to print
        </a>
      )}
    </Overlay>
  );
}
