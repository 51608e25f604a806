import type { View } from '../../../../shared/logbook/state/view.ts';
import { changeWords } from '../../../../shared/plan/plan-difference.ts';
import { ChoiceList } from '../../parts/choice-list.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import type { Proposal } from '../../shared-screens/plan-draft.ts';
import { signedWords } from './revision-words.ts';

interface Props {
  readonly view: View;
  readonly proposal: Proposal;
  readonly choices: Readonly<Record<string, string>>;
  readonly onChoice: (path: string, index: string) => void;
}

/** Where the revisions to be joined differ: which one is followed, place by place. */
export function JoinChoices({ view, proposal, choices, onChoice }: Props) {
  return (
    <Sheet title="Where they differ" aside={`${proposal.undecided.length} to decide`}>
      {proposal.conflicts.map(({ path, options }) => (
        <ChoiceList
          key={path}
          legend={options.flat()[0]?.title ?? path}
          value={choices[path] ?? null}
          onChoice={(index) => onChoice(path, index)}
          choices={options.flatMap((groups, index) =>
            groups.length === 0
              ? []
              : [
                  {
                    value: String(index),
                    label: groups.flatMap((g) => g.changes.map(changeWords)).join('; '),
                    detail: `revision ${view.heads[index]!.plan.revision}, ${signedWords(view, view.heads[index]!)}`,
                  },
                ],
          )}
        />
      ))}
    </Sheet>
  );
}
