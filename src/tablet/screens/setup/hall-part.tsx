import { useSignal } from '@preact/signals';
import { HallCard } from '../../app/hall-card.tsx';
import { hallNow } from '../../app/hall-now.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { HallForm } from './hall-form.tsx';
import { KeepersOnly } from './keepers-only.tsx';
import { Said } from './said.tsx';

/** The hall's emergency numbers: as they stand, and the form in which a keeper enters them. */
export function HallPart() {
  const hall = hallNow();
  const said = useSignal<string | null>(null);
  return (
    <>
      <Sheet title={hall ? 'Enter them anew' : 'Enter the numbers'} graduated class="setup-side">
        <KeepersOnly what="enters the numbers">
          <Said words={said.value} />
          <HallForm
            key={hall?.writtenAt}
            before={hall}
            onKept={() => {
              said.value = 'The numbers stand on this tablet. Print the page and hang it up.';
            }}
          />
        </KeepersOnly>
      </Sheet>
      <Sheet title="Emergency numbers" class="setup-list">
        <div class="pad setup-panel">
          <HallCard hall={hall} />
          {hall && (
            <a class="button" href="/hall">
              The page to print
            </a>
          )}
        </div>
      </Sheet>
    </>
  );
}
