import { useSignal } from '@preact/signals';
import type { TabletLine } from '../../../../shared/logbook/state/branches.ts';
import type { JoinRequest } from '../../../../shared/sync/join-request.ts';
import { lacking } from '../../../../shared/sync/lacking.ts';
import { openRequest } from '../../acts/join-casting.ts';
import { saveFile } from '../../acts/save-file.ts';
import { Problem } from '../../app/problem.tsx';
import { openStore, openView } from '../../app/tablet.ts';
import { useSaving } from '../../app/use-saving.ts';
import { inGroups } from '../../shared-screens/fields/fingerprint.tsx';
import { ForkPanel } from './fork-panel.tsx';
import { crew, KeepersOnly } from './keepers-only.tsx';
import { RetireForm } from './retire-form.tsx';
import { Said } from './said.tsx';

export type TabletPanelProps = {
  tablet: TabletLine;
  /** What it asks for, where that came as an entry. */
  request: JoinRequest | undefined;
  onDone: (said?: string) => void;
  onRequest: (request: JoinRequest) => void;
};

/** One tablet: what it is known to lack, as a file; its fork to be decided; and its retirement. */
export function TabletPanel({ tablet, request, onDone, onRequest }: TabletPanelProps) {
  const retiring = useSignal(false);
  const saved = useSignal<string | undefined>(undefined);
  const { busy, problem, run } = useSaving();
  const view = openView();
  const own = tablet.device === openStore().device;
  const lacks = own ? 0 : lacking(view, tablet.device).length;
  const keyed = crew().filter((p) => view.standing.keysOf(p.id, tablet.device).length > 0);
  const name = tablet.name ?? 'the tablet';
  const save = () =>
    run(async () => {
      const file = await saveFile(tablet.device);
      saved.value = `Saved ${file.entries} entries as ${file.name}.`;
      return true;
    });
  return (
    <div class="pad setup-panel">
      <Said words={saved.value} />
      {problem && <Problem title="That was not done" words={problem} safe="The log is as it was." />}
      <dl class="facts">
        <dt>Id</dt>
        <dd class="n setup-id">{inGroups(tablet.device).join(' ')}</dd>
        <dt>Entries here</dt>
        <dd class="n">{tablet.entries}</dd>
        <dt>Keys on it</dt>
        <dd>{keyed.map((p) => p.name).join(', ') || 'none'}</dd>
      </dl>
      {tablet.forkedAt !== null && <ForkPanel device={tablet.device} onDone={onDone} />}
      {!own && (
        <>
          <p>
            {lacks === 0
              ? `As far as is known here, ${name} lacks nothing.`
              : `As far as is known here, ${name} lacks ${lacks} ${lacks === 1 ? 'entry' : 'entries'}.`}
          </p>
          {lacks > 0 && (
            <button type="button" class="button" aria-busy={busy} onClick={() => void save()}>
              Save what it lacks
            </button>
          )}
        </>
      )}
      {tablet.name === null && !own && !request && (
        <p class="dim">To admit it, open here the request that it saves or sends in its Setup, Tablets.</p>
      )}
      {request && !own && (
        <button
          type="button"
          class="button main"
          aria-busy={busy}
          onClick={() =>
            void run(async () => {
              onRequest(await openRequest(request));
              return true;
            })
          }
        >
          Look at what it asks for
        </button>
      )}
      {tablet.name !== null && !tablet.retired && (
        <KeepersOnly what="retires tablets">
          <button
            type="button"
            class="button"
            onClick={() => {
              retiring.value = true;
            }}
          >
            Retire this tablet
          </button>
        </KeepersOnly>
      )}
      <button type="button" class="button" onClick={() => onDone()}>
        Back
      </button>
      {retiring.value && (
        <RetireForm
          what={{ device: tablet.device }}
          name={name}
          onClose={() => {
            retiring.value = false;
          }}
          onDone={onDone}
        />
      )}
    </div>
  );
}
