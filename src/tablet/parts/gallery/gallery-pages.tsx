import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { AppFrame } from '../app-frame.tsx';
import { PinPad } from '../pin-pad.tsx';
import { Sheet } from '../sheet.tsx';
import { GalleryForms } from './gallery-forms.tsx';
import { GallerySigns } from './gallery-signs.tsx';
import { GalleryStrips } from './gallery-strips.tsx';
import { GallerySurvey } from './gallery-survey.tsx';
import { LONG_WAIT, PLACES, SPINE, TITLE } from './gallery-world.ts';

/** The pages of the gallery. */
export const PAGES = ['strips', 'signs', 'survey', 'forms', 'pin', 'states'] as const;
export type Page = (typeof PAGES)[number];

/** One page in the frame of the tablet. */
export function GalleryPage({ page }: { page: Page }) {
  const [open, setOpen] = useState(true);
  if (page === 'survey') {
    return (
      <AppFrame title={TITLE} spine={SPINE} places={PLACES} keying work="gallery-survey">
        <GallerySurvey />
      </AppFrame>
    );
  }
  const contents: Record<Exclude<Page, 'survey'>, ComponentChildren> = {
    strips: (
      <>
        <GalleryStrips />
        <p class="buttons">
          {PAGES.map((name) => (
            <a key={name} class="button" href={`?page=${name}`}>
              {name}
            </a>
          ))}
        </p>
      </>
    ),
    signs: <GallerySigns />,
    forms: <GalleryForms />,
    states: <Sheet title="The state line above is late" />,
    pin: open && (
      <PinPad
        title="Sign H6 Mould ready for glass"
        who="Ruth V., crew lead"
        error="That is not the PIN of Ruth V. Two tries are left."
        onPin={() => setOpen(false)}
        onClose={() => setOpen(false)}
      />
    ),
  };
  const title = page === 'states' ? { ...TITLE, state: LONG_WAIT } : { ...TITLE, screen: 'Parts' };
  return (
    <AppFrame title={title} spine={SPINE} places={PLACES}>
      {contents[page]}
    </AppFrame>
  );
}
