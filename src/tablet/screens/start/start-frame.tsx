import type { ComponentChildren } from 'preact';
import { store } from '../../app/tablet.ts';
import { HatchDefs } from '../../parts/hatch-defs.tsx';
import { Mark } from '../../parts/icons.tsx';
import { Rail } from '../../parts/rail.tsx';

export type StartFrameProps = {
  /** The only h1. */
  name: string;
  line: string;
  note: string;
  work: string;
  children: ComponentChildren;
};

/** The frame of a casting that is not there yet: no rule, no clock of its own. Places only where one is open already. */
export function StartFrame({ name, line, note, work, children }: StartFrameProps) {
  const open = store.value !== null;
  return (
    <div class={`app ${open ? '' : 'start-alone'}`}>
      <HatchDefs />
      <a class="skip button" href="#work">
        To the work
      </a>
      <header class="title-block">
        {!open && (
          <div class="start-mark">
            <Mark />
          </div>
        )}
        <div class="title-screen">
          <h1>{name}</h1>
        </div>
        <div class="title-operation">
          <p class="title-line">
            <span>{line}</span>
          </p>
          <p class="title-note">{note}</p>
        </div>
      </header>
      <main id="work" class={`work ${work}`} tabIndex={-1}>
        {children}
      </main>
      {open && (
        <Rail
          places={[
            { href: '/', label: 'Now', icon: 'now' },
            { href: '/setup', label: 'Setup', icon: 'setup', current: true },
          ]}
        />
      )}
    </div>
  );
}
