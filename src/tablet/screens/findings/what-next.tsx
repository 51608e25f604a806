import { useState } from 'preact/hooks';
import type { Finding } from '../../../../shared/logbook/state/findings.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { someone } from '../../app/who.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { CloseForm } from './close-form.tsx';
import { DecideForm } from './decide-form.tsx';

type Doing = 'nothing' | 'decide' | 'close';

/** The one thing that a finding waits for. */
export function WhatNext({ view, finding }: { view: View; finding: Finding }) {
  const [doing, start] = useState<Doing>('nothing');
  const begin = (what: Doing) => void someone().then((who) => who && start(what));
  const end = () => start('nothing');
  if (doing === 'decide') return <DecideForm view={view} finding={finding} onEnd={end} />;
  if (doing === 'close') return <CloseForm view={view} finding={finding} onEnd={end} />;
  if (finding.state === 'closed') {
    return (
      <Sheet graduated label="Closed" class="finding-do">
        <h2>Closed</h2>
        <p>Nothing more is to do. Everything that was written stays in the record.</p>
        <a class="button main" href="/findings">
          All findings
        </a>
      </Sheet>
    );
  }
  const open = finding.state === 'open';
  return (
    <Sheet graduated label="What next" class="finding-do">
      <h2>{open ? 'It waits for a decision' : 'It waits for quality'}</h2>
      <p>
        {open
          ? 'One person proposes, another with the authority accepts and signs.'
          : 'Quality looks at what was done, and closes it.'}
      </p>
      <button type="button" class={`button ${open ? 'main' : ''}`} onClick={() => begin('decide')}>
        {open ? 'Decide what becomes of it' : 'Decide anew'}
      </button>
      {!open && (
        <button type="button" class="button main" onClick={() => begin('close')}>
          Close the finding
        </button>
      )}
    </Sheet>
  );
}
