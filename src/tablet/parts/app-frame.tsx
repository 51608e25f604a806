import type { ComponentChildren } from 'preact';
import { HatchDefs } from './hatch-defs.tsx';
import { type Place, Rail } from './rail.tsx';
import { Spine, type SpineProps } from './spine.tsx';
import { TitleBlock, type TitleBlockProps } from './title-block.tsx';
import './app-frame.css';

export type AppFrameProps = {
  title: Omit<TitleBlockProps, 'places'>;
  /** Left out before there is a casting. */
  spine?: SpineProps | undefined;
  places: Place[];
  /** Opens the hall's emergency numbers. */
  onEmergency?: (() => void) | undefined;
  /** The keypad is open: on the phone the bottom bar gives way. */
  keying?: boolean | undefined;
  /** A class for the work: the screen's own grid, or `work-two` (what is seen, and 372 to 452 px of what is done). */
  work?: string | undefined;
  children: ComponentChildren;
};

/** Lays title block, spine, places and work out in the three sizes. */
export function AppFrame({ title, spine, places, onEmergency, keying, work = '', children }: AppFrameProps) {
  return (
    <div class={`app ${keying ? 'keying' : ''}`}>
      <HatchDefs />
      <a class="skip button" href="#work">
        To the work
      </a>
      <TitleBlock {...title} places={places} />
      {spine && <Spine {...spine} />}
      <main id="work" class={`work ${work}`} tabIndex={-1}>
        {children}
      </main>
      <Rail places={places} onEmergency={onEmergency} />
    </div>
  );
}
