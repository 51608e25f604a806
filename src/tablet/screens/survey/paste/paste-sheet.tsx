import { useMemo, useState } from 'preact/hooks';
import type { View } from '../../../../../shared/logbook/state/view.ts';
import { FileFault } from '../../../../../shared/logger/file-fault.ts';
import { encodingOf } from '../../../../../shared/logger/text-bytes.ts';
import type { Columns, PointMapping } from '../../../../../shared/points/map-points.ts';
import { type PointTable, readTable } from '../../../../../shared/points/read-table.ts';
import { recordReadings } from '../../../acts/readings.ts';
import { settings } from '../../../app/settings.ts';
import { openView } from '../../../app/tablet.ts';
import { typingUnit } from '../../../app/units.ts';
import { useDraft } from '../../../app/use-draft.ts';
import { useSaving } from '../../../app/use-saving.ts';
import { someone } from '../../../app/who.ts';
import { Figure } from '../../../parts/figure.tsx';
import { Filter } from '../../../parts/filter.tsx';
import { Overlay } from '../../../parts/overlay.tsx';
import { VerdictMark } from '../../../parts/verdict-mark.tsx';
import { FileButton } from '../../../shared-screens/file-button.tsx';
import type { PassDraft } from '../pass-draft.ts';
import { shownNow } from '../shown.ts';
import { type Survey, surveyOf } from '../survey-of.ts';
import { type JudgedRows, judgeRows, rowsToKeep } from './judge-rows.ts';
import { NOTHING_PASTED, type Pasted, readingsWords, savedWords, stays } from './pasted.ts';
import './paste.css';

interface Props {
  readonly view: View;
  readonly survey: Survey;
  /** What holds for the pass: instrument, temperatures, who reads, paper. */
  readonly pass: PassDraft;
  readonly onClose: (said?: string) => void;
}

/** More is no survey. */
const MOST_CHARACTERS = 1_000_000;
/** As many rows as are shown of those that are taken. */
const MOST_SHOWN = 12;

/** Many readings at once: a column pasted or a file opened, looked at row by row, and kept in one act. */
export function PasteSheet({ view, survey, pass, onClose }: Props) {
  const { operation, characteristic } = survey;
  const draft = useDraft<Pasted>(`paste/${operation.id}/${characteristic.id}`, NOTHING_PASTED, {
    holds: (p) => p.text !== '',
  });
  const [ask, setAsk] = useState<string | null>(null);
  const { busy, problem, run } = useSaving();
  const { value } = draft;
  const read = useMemo(() => tableOf(value), [value.text, value.comma]);
  const mapping = mappingOf(survey, value, 'table' in read ? read.table : null);
  const judged = useMemo(
    () =>
      'table' in read && read.table.rows.length > 0
        ? judgeRows(view, survey, pass, read.table, mapping, settings.value, new Date())
        : null,
    [view, survey, read, mapping.columns, mapping.unit, mapping.axis],
  );
  if (!draft.ready) return null;
  const change = (part: Partial<Pasted>) => {
    setAsk(null);
    draft.change(part);
  };
  const open = async (file: File) => {
    try {
      change({ text: await textOf(file), from: file.name, comma: null });
    } catch (error) {
      setAsk(error instanceof Error ? error.message : String(error));
    }
  };
  const keep = async () => {
    if (!judged || !('table' in read)) return setAsk('Paste a column, or open a file.');
    if (judged.fault) return setAsk(judged.fault.words);
    await run(async () => {
      const who = await someone();
      if (!who) return false;
      // As the log stands now: what came in meanwhile is not read a second time.
      const latest = surveyOf(openView(), operation.id, characteristic.id, pass.named)!;
      const now = judgeRows(openView(), latest, pass, read.table, mapping, settings.value, new Date());
      if (now.taken.length === 0) {
        setAsk('No row can be taken: the list says why.');
        return false;
      }
      await recordReadings(rowsToKeep(now.taken, who.id, value.from));
      const rest = stays(value, mapping, now);
      if (rest) draft.change(rest);
      else await draft.clear();
      onClose(savedWords(now, characteristic.name));
      return true;
    });
  };
  return (
    <Overlay title="Many at once" onClose={() => onClose()}>
      <div class="paste">
        <label class="labelled">
          <span>Paste one column, or station and value, or x, y, z</span>
          <textarea
            class="input n"
            rows={4}
            value={value.text}
            maxLength={MOST_CHARACTERS}
            spellcheck={false}
            autoComplete="off"
            onInput={(event) => change({ text: event.currentTarget.value, from: 'pasted', comma: null })}
          />
        </label>
        <div class="buttons">
          <FileButton label="Open a file" accept=".csv,.txt,.tsv,text/*" onFile={(file) => void open(file)} />
          {value.text !== '' && (
            <button type="button" class="button" onClick={() => void draft.clear()}>
              Clear what was pasted
            </button>
          )}
        </div>
        {'table' in read && read.table.eitherComma && (
          <Filter
            legend="What the comma is"
            choices={[
              { value: 'decimal', label: 'Comma: decimal' },
              { value: 'parts', label: 'Comma: parts the columns' },
            ]}
            value={value.comma}
            onChoice={(comma) => change({ comma })}
          />
        )}
        <Choices survey={survey} mapping={mapping} change={change} />
        {'fault' in read && <p class="error small">{read.fault}</p>}
        {judged && <Rows survey={survey} judged={judged} />}
        <div class="form-end">
          {(ask || problem) && (
            <p class={problem ? 'error small' : 'asked small'} role="status">
              {problem ? `Not saved: ${problem} What you pasted is still here.` : ask}
            </p>
          )}
          <button type="button" class="button main wide" onClick={() => void keep()}>
            {busy ? 'Saving' : `Save ${readingsWords(judged?.taken.length ?? 0)}`}
          </button>
        </div>
      </div>
    </Overlay>
  );
}

function tableOf({ text, comma }: Pasted): { table: PointTable } | { fault: string } {
  try {
    return { table: readTable(text, comma) };
  } catch (error) {
    if (error instanceof FileFault) return { fault: error.message };
    throw error;
  }
}

/** @throws {FileFault} for what is no text */
async function textOf(file: File): Promise<string> {
  if (file.size > MOST_CHARACTERS) throw new FileFault('too-large', `${file.name} is too large for one survey.`);
  const bytes = new Uint8Array(await file.arrayBuffer());
  return new TextDecoder(encodingOf(bytes)).decode(bytes);
}

const hasPlaces = ({ items }: Survey, wanted: 'wall' | 'plan'): boolean =>
  items.length > 0 &&
  items.every(({ station: s }) =>
    wanted === 'wall' ? s.angle_deg !== undefined && s.height_mm !== undefined : s.x_mm !== undefined,
  );

/** Points of a tracker give radii on a wall and heights on a floor; a diameter is no distance from the axis. */
const takesPoints = (survey: Survey): boolean =>
  survey.characteristic.unit === 'mm' &&
  (hasPlaces(survey, 'plan') || (hasPlaces(survey, 'wall') && /radius/.test(survey.characteristic.id)));

/** What was chosen, else what the number of columns says. */
function mappingOf(survey: Survey, { columns, unit, axis }: Pasted, table: PointTable | null): PointMapping {
  const wide = table?.columns ?? 2;
  const guessed: Columns =
    wide <= 1 ? 'value' : wide === 2 ? 'station-value' : takesPoints(survey) ? 'xyz' : 'angle-height-value';
  return { columns: columns ?? guessed, unit: unit ?? typingUnit(survey.characteristic.unit, settings.value), axis };
}

function Choices(props: { survey: Survey; mapping: PointMapping; change: (part: Partial<Pasted>) => void }) {
  const { survey, mapping, change } = props;
  const columns: { value: Columns; label: string }[] = [
    { value: 'value', label: 'In order' },
    { value: 'station-value', label: 'Station, value' },
    ...(hasPlaces(survey, 'wall') ? [{ value: 'angle-height-value' as const, label: 'Angle, height, value' }] : []),
    ...(takesPoints(survey) ? [{ value: 'xyz' as const, label: 'x, y, z' }] : []),
  ];
  return (
    <>
      <Filter
        legend="What the columns are"
        choices={columns}
        value={mapping.columns}
        onChoice={(c) => change({ columns: c })}
      />
      {survey.characteristic.unit === 'mm' && (
        <Filter
          legend="Unit of figures without one"
          choices={['mm', 'm', 'in'].map((unit) => ({ value: unit, label: unit }))}
          value={mapping.unit}
          onChoice={(unit) => change({ unit })}
        />
      )}
      {mapping.columns === 'xyz' && hasPlaces(survey, 'wall') && (
        <Filter
          legend="Where the axis is"
          choices={[
            { value: 'fit', label: 'Axis by a circle at each height' },
            { value: 'origin', label: 'Axis at the origin' },
          ]}
          value={mapping.axis}
          onChoice={(axis) => change({ axis })}
        />
      )}
    </>
  );
}

/** What will not be taken stands first, with why; then what will. */
function Rows({ survey, judged }: { survey: Survey; judged: JudgedRows }) {
  const { taken, left, fault } = judged;
  const { decimals, unit, value } = shownNow(survey.characteristic);
  return (
    <>
      {fault && (
        <p class="asked small">{fault.words} It is the same for all rows: close this, and set it for the pass.</p>
      )}
      {left.length > 0 && (
        <section aria-label="Rows that are not taken">
          <h3>
            Not taken: <span class="n">{left.length}</span>
          </h3>
          <ul class="rows paste-left">
            {left.map((row) => (
              <li key={row.line}>
                <span class="n dim">line {row.line}</span>
                <span class="grow">
                  <b class="n">{row.cells || 'nothing'}</b>
                  <span class="second small">{row.why}</span>
                </span>
              </li>
            ))}
          </ul>
        </section>
      )}
      {taken.length > 0 && (
        <section aria-label="Rows that are taken">
          <h3>
            To be saved: <span class="n">{taken.length}</span>
          </h3>
          <ul class="rows">
            {taken.slice(0, MOST_SHOWN).map(({ line, input }) => (
              <li key={line}>
                <span class="n dim">line {line}</span>
                <span class="grow">{input.item.station.label}</span>
                <Figure value={value(input.judgement!.value)} decimals={decimals} unit={unit} />
                {input.judgement!.verdict && <VerdictMark verdict={input.judgement!.verdict} />}
              </li>
            ))}
          </ul>
          {taken.length > MOST_SHOWN && <p class="note">and {taken.length - MOST_SHOWN} more</p>}
        </section>
      )}
    </>
  );
}
