import { useMemo, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import {
  entriesSince,
  type Prepared,
  type PreparedItem,
  prepareHandover,
  promptKey,
} from '../../../../shared/logbook/state/handover.ts';
import type { HandoverState } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { handOver } from '../../acts/handover.ts';
import { person } from '../../app/session.ts';
import { now } from '../../app/time.ts';
import { useDraft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { Earlier } from './earlier.tsx';
import { Figures } from './figures.tsx';
import { ItemContent } from './item-content.tsx';
import { ItemSheet } from './item-sheet.tsx';
import { LeadChoice, leads } from './lead-choice.tsx';
import { Moments } from './moments.tsx';
import { Prompt } from './prompt.tsx';
import { SignLines } from './sign-lines.tsx';
import { Steps, stepsOfPrepared } from './steps.tsx';

const MINUTE_MS = 60_000;

interface Props {
  readonly view: View;
  /** The open handover that this one is prepared in place of. */
  readonly instead: HandoverState | null;
}

/** The outgoing lead looks through what the log tells, answers what it cannot know, and signs. */
export function Prepare({ view, instead }: Props) {
  const minute = Math.floor(now.value.getTime() / MINUTE_MS);
  const prepared = useMemo(() => prepareHandover(view, minute * MINUTE_MS), [view.log.version, view.judge, minute]);
  const { before } = prepared;
  const own = leads(view).find((p) => p.id === person.value?.id);
  // What one lead said is no other's answer: it is only shown beside the question.
  const mine = instead !== null && instead.handover.entry.by === own?.id;
  const start = useMemo(() => ({ said: mine ? saidIn(instead) : {} }), [instead?.handover.hash, mine]);
  const hints = saidIn(instead ?? before);
  const draft = useDraft(`handover/${(instead ?? before)?.handover.hash ?? 'first'}/${own?.id ?? ''}`, start);
  const saving = useSaving();
  const { route } = useLocation();
  const [choosing, setChoosing] = useState(false);
  const [opened, open] = useState<PreparedItem | null>(null);
  const { said } = draft.value;

  const sign = async (lead: string) => {
    setChoosing(false);
    let hash: string | undefined;
    const kept = await saving.run(async () => {
      const written = await handOver(prepared, draft.latest().said, lead);
      hash = written ? written[0]?.hash : undefined;
      return hash !== undefined;
    });
    if (!kept) return;
    void draft.clear();
    route(`/handover/${hash}`);
  };
  const unsaid = unsaidIn(prepared, said);
  const asked = prepared.items.flatMap((i) => i.prompts).length;
  return (
    <>
      <Steps steps={stepsOfPrepared(prepared.since)} />
      <Sheet class="ho-list" label="What the incoming lead must know">
        <ol class="ho-items">
          {prepared.items.map((item, i) => (
            <li key={item.item}>
              <button type="button" class="row ho-row" onClick={() => open(item)}>
                <span class="n ho-number">{i + 1}</span>
                <ItemContent shown={item} />
              </button>
              {item.prompts.map((prompt) => (
                <Prompt
                  key={prompt}
                  label={prompt}
                  text={said[promptKey(item.item, prompt)] ?? ''}
                  before={hints[promptKey(item.item, prompt)]}
                  onText={(text) =>
                    draft.change({ said: { ...draft.latest().said, [promptKey(item.item, prompt)]: text } })
                  }
                />
              ))}
            </li>
          ))}
        </ol>
      </Sheet>
      <div class="ho-side">
        <Figures
          view={view}
          now_ms={minute * MINUTE_MS}
          since={prepared.since}
          fresh={entriesSince(view, before?.handover ?? null)}
        />
        <Earlier view={view} except={null} />
      </div>
      <Sheet graduated label="Hand the shift over" class="ho-act">
        <Moments view={view} now={prepared.moments} />
        <SignLines outgoing={own?.name ?? 'The outgoing lead'} incoming="The incoming lead" />
        <p class={`small ho-said ${unsaid > 0 ? 'unproven' : 'dim'}`}>
          {unsaid === 0
            ? `All ${asked} questions are answered.`
            : `${unsaid} of ${asked} questions are not answered: the incoming lead will see that.`}
        </p>
        {saving.problem && <p class="form-error">{saving.problem}</p>}
        <button type="button" class="button main wide" onClick={() => (own ? void sign(own.id) : setChoosing(true))}>
          {saving.busy ? 'Saving' : 'Hand over with PIN'}
        </button>
      </Sheet>
      {choosing && (
        <LeadChoice
          title="Who hands over?"
          people={leads(view)}
          onChoice={(lead) => void sign(lead)}
          onClose={() => setChoosing(false)}
        />
      )}
      {opened && (
        <ItemSheet
          view={view}
          shown={opened}
          standing={{ before: before?.handover.hash ?? null, handover: null }}
          onClose={() => open(null)}
        />
      )}
    </>
  );
}

/** What the outgoing lead answered in a handover, by prompt. */
function saidIn(state: HandoverState | null): Record<string, string> {
  const answers = (state?.handover.body.items ?? []).flatMap(({ item, lines }) =>
    lines.flatMap(({ asked, text }) => (asked === undefined ? [] : [[promptKey(item, asked), text] as const])),
  );
  return Object.fromEntries(answers);
}

const unsaidIn = ({ items }: Prepared, said: Readonly<Record<string, string>>): number =>
  items.flatMap(({ item, prompts }) => prompts.filter((p) => !said[promptKey(item, p)]?.trim())).length;
