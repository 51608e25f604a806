import { useState } from 'preact/hooks';
import { ChoiceList } from '../choice-list.tsx';
import { Figure } from '../figure.tsx';
import { Keypad } from '../keypad.tsx';
import { ReadingField } from '../reading-field.tsx';
import { Sheet } from '../sheet.tsx';
import { StationList, type StationRow } from '../station-list.tsx';
import { type Answer, YesNoRow } from '../yes-no-row.tsx';

const BAND = { lower: 412, upper: 428, nominal: 420, guard: 1.6, decimals: 1, unit: '°C' };
const row = (name: string, value: number | null, verdict: StationRow['strip']['verdict']): StationRow => ({
  key: name,
  name,
  detail: 'thermocouple, wall',
  reading: <Figure value={value} decimals={1} unit="°C" />,
  strip: { ...BAND, value, verdict },
  onChoose: () => undefined,
});

/** Lists, choices, check sheets and fields. */
export function GalleryForms() {
  const [answers, setAnswers] = useState<(Answer | null)[]>(['yes', 'no', 'not-applicable', null]);
  const [reason, setReason] = useState<'late' | 'dead' | 'other' | null>('dead');
  const [text, setText] = useState('12.3.4x');
  return (
    <>
      <Sheet title="Channels">
        <StationList
          label="Channels"
          rows={[
            { ...row('W1', 420.4, 'within'), current: true },
            { ...row('W2', 427.1, 'not-proven'), side: 'high' },
            { ...row('W3', 405.2, 'outside'), side: 'low' },
            row('W4', null, null),
          ]}
        />
      </Sheet>
      <Sheet title="Before closing" aside="4 of 12 answered">
        {answers.map((answer, i) => (
          <YesNoRow
            key={i}
            number={`3.${i + 1}`}
            text="Hold-down pins are seated and the count of loose tools is the count that went in"
            answer={answer}
            onAnswer={(given) => setAnswers(answers.map((a, j) => (i === j ? given : a)))}
          >
            {answer === 'no' && (
              <label class="labelled">
                <span>What was found</span>
                <input class="input" value="One spanner is missing" />
              </label>
            )}
          </YesNoRow>
        ))}
      </Sheet>
      <Sheet title="Why is the reading missing?">
        <ChoiceList
          legend="Why is the reading missing?"
          legendHidden
          value={reason}
          onChoice={setReason}
          choices={[
            { value: 'late', label: 'Nobody was at the furnace' },
            { value: 'dead', label: 'The channel is dead', detail: 'Says so in the round and raises a finding' },
            { value: 'other', label: 'Something else' },
          ]}
        />
      </Sheet>
      <Sheet title="Band tension B3" graduated>
        <div class="pad stack">
          <ReadingField
            label="Band tension B3"
            text={text}
            onText={setText}
            onEnter={() => undefined}
            unit="kN"
            error="This is not one figure. It has two decimal marks."
          />
          <Keypad onKey={() => undefined} onEnter={() => undefined} enterLabel="Keep" unsigned mirrored />
          <div class="buttons">
            <button type="button" class="button">
              Refuse, with reason
            </button>
            <button type="button" class="button missing">
              Sign: 2 things missing
            </button>
            <button type="button" class="button main">
              Start the round
            </button>
          </div>
          <p>
            <b class="n">1</b> strike: <s class="struck n">W4 481.0</s> by Ines M., 01:05, “misread”; now{' '}
            <b class="n">419.6</b>
          </p>
        </div>
      </Sheet>
    </>
  );
}
