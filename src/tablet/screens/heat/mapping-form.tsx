import type { View } from '../../../../shared/logbook/state/view.ts';
import type { Look, LookColumn } from '../../../../shared/logger/look.ts';
import {
  DEGREES,
  dateOrders,
  delimiters,
  EMF,
  OWN_OFFSET,
  thermocoupleLetters,
  unitsFor,
} from '../../../../shared/logger/mapping.ts';
import { Problem } from '../../app/problem.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import {
  type ColumnDraft,
  delimiterWords,
  FIXED,
  junctionUnit,
  letterOf,
  type MappingDraft,
  orderWords,
  readMapping,
  zoneWords,
} from './mapping-draft.ts';
import type { LoggerFileWork } from './use-logger-file.ts';

interface Props {
  readonly view: View;
  readonly file: File;
  readonly look: Look;
  readonly work: LoggerFileWork;
}

/** How the file is read: what it says itself is filled in, what only a person can say is asked. */
export function MappingForm({ view, file, look, work }: Props) {
  const { draft, change, fault } = work;
  const said = readMapping(look, draft);
  const asks = 'ask' in said ? said.ask : null;
  return (
    <Sheet graduated title="How it is read" beside={file.name} class="heat-form">
      <div class="pad stack-small">
        {fault && fault !== asks && (
          <Problem
            title="It cannot be taken in this way"
            words={fault}
            safe="Nothing was kept. Change how it is read."
          />
        )}
        <Clock view={view} look={look} draft={draft} change={change} />
        <Order look={look} draft={draft} change={change} />
        <p class="small dim">
          {look.headerLine === 0 ? 'No line names the columns' : `Line ${look.headerLine} names the columns`}.
        </p>
        <label class="labelled">
          <span>Delimiter: what parts the columns</span>
          <select
            class="input"
            value={look.delimiter}
            onChange={(e) => void work.part(delimiters.find((d) => d === e.currentTarget.value)!)}
          >
            {delimiters.map((d) => (
              <option key={d} value={d}>
                {delimiterWords[d]}
              </option>
            ))}
          </select>
        </label>
        <label class="labelled">
          <span>Decimal mark</span>
          <select
            class="input"
            value={draft.decimalMark}
            onChange={(e) => change({ decimalMark: e.currentTarget.value === ',' ? ',' : '.' })}
          >
            <option value=".">point, 20.5</option>
            <option value=",">comma, 20,5</option>
          </select>
        </label>
      </div>
      <h3 class="pad heat-columns-name">Columns</h3>
      <ul class="rows">
        {look.columns.map((column) => (
          <li key={column.column}>
            <Column view={view} look={look} column={column} draft={draft} change={change} />
          </li>
        ))}
      </ul>
      <div class="pad heat-form-foot">
        <div class="form-end">
          {asks && (
            <p class="field-error" role="alert">
              {asks}
            </p>
          )}
          <div class="buttons">
            <button type="button" class="button" onClick={work.leave}>
              Leave it
            </button>
            <button type="button" class={`button ${asks ? 'missing' : 'main'}`} onClick={() => void work.read()}>
              Read the whole file
            </button>
          </div>
        </div>
      </div>
    </Sheet>
  );
}

interface FieldProps {
  readonly look: Look;
  readonly draft: MappingDraft;
  readonly change: (part: Partial<MappingDraft>) => void;
}

function Clock({ view, look, draft, change }: FieldProps & { view: View }) {
  const hall = view.genesis.timeZone;
  const zones = look.zone === OWN_OFFSET ? [OWN_OFFSET] : [...new Set([hall, 'UTC'])];
  return (
    <label class="labelled">
      <span>Clock of the logger: it may not have changed to summer time</span>
      <select class="input" value={draft.zone} onChange={(e) => change({ zone: e.currentTarget.value })}>
        <option value="">choose</option>
        {zones.map((zone) => (
          <option key={zone} value={zone}>
            {zoneWords(zone, hall)}
          </option>
        ))}
      </select>
    </label>
  );
}

function Order({ look, draft, change }: FieldProps) {
  const [first] = look.rows;
  return (
    <label class="labelled">
      <span>
        Order of the date, <b class="n">{first?.cells[look.timeColumn]}</b> on line {first?.line}
      </span>
      <select
        class="input"
        value={draft.order}
        onChange={(e) => change({ order: dateOrders.find((o) => o === e.currentTarget.value) ?? '' })}
      >
        <option value="">choose</option>
        {dateOrders
          .filter((order) => look.orders.includes(order))
          .map((order) => (
            <option key={order} value={order}>
              {orderWords[order]}
            </option>
          ))}
      </select>
    </label>
  );
}

function Column({ view, look, column, draft, change }: FieldProps & { view: View; column: LookColumn }) {
  const said = draft.channels[column.column];
  const unit = view.plan.channels.find((c) => c.id === said?.channel)?.unit ?? '';
  const units = unitsFor(unit);
  const name = column.name || `column ${column.column + 1}`;
  const give = (channel: string) => {
    const { [column.column]: _, ...others } = draft.channels;
    const own = view.plan.channels.find((c) => c.id === channel)?.unit ?? '';
    const type = letterOf(view.plan.channels.find((c) => c.id === channel));
    change({
      channels:
        channel === '' ? others : { ...others, [column.column]: { channel, unit: own, ...(type ? { type } : {}) } },
    });
  };
  const say = (part: Partial<ColumnDraft>) =>
    change({ channels: { ...draft.channels, [column.column]: { ...said!, ...part } } });
  return (
    <div class="heat-column">
      <span class="heat-column-name">
        <b>{name}</b>
        <span class="second small dim n">{look.rows[0]?.cells[column.column] || '–'}</span>
      </span>
      <label>
        <span class="hidden-text">Channel of {name}</span>
        <select class="input" value={said?.channel ?? ''} onChange={(e) => give(e.currentTarget.value)}>
          <option value="">left out</option>
          {view.plan.channels.map(({ id, where }) => (
            <option key={id} value={id}>
              {id} {where}
            </option>
          ))}
        </select>
      </label>
      {said && units.length > 1 && (
        <label>
          <span class="hidden-text">Unit of {name}</span>
          <select class="input" value={said.unit} onChange={(e) => say({ unit: e.currentTarget.value })}>
            {units.map((u) => (
              <option key={u}>{u}</option>
            ))}
          </select>
        </label>
      )}
      {said?.unit === EMF && (
        <Thermocouple look={look} draft={draft} name={name} own={column.column} said={said} say={say} />
      )}
    </div>
  );
}

interface ThermocoupleProps {
  readonly look: Look;
  readonly draft: MappingDraft;
  readonly name: string;
  readonly own: number;
  readonly said: ColumnDraft;
  readonly say: (part: Partial<ColumnDraft>) => void;
}

/** What an emf wants to know before it is a temperature. */
function Thermocouple({ look, draft, name, own, said, say }: ThermocoupleProps) {
  const column = said.junction === FIXED ? undefined : said.junction;
  const asksUnit = column !== undefined && column !== '' && junctionUnit(column, look, draft) === null;
  return (
    <div class="heat-emf">
      <label class="labelled">
        <span>Thermocouple of {name}</span>
        <select class="input" value={said.type ?? ''} onChange={(e) => say({ type: e.currentTarget.value })}>
          <option value="">choose</option>
          {thermocoupleLetters.map((letter) => (
            <option key={letter} value={letter}>
              type {letter}
            </option>
          ))}
        </select>
      </label>
      <label class="labelled">
        <span>Reference junction of {name}</span>
        <select
          class="input"
          value={said.junction ?? ''}
          onChange={(e) => say({ junction: e.currentTarget.value, junctionUnit: '' })}
        >
          <option value="">choose</option>
          <option value={FIXED}>at one temperature</option>
          {look.columns
            .filter((c) => c.column !== own)
            .map((c) => (
              <option key={c.column} value={String(c.column)}>
                read in {c.name || `column ${c.column + 1}`}
              </option>
            ))}
        </select>
      </label>
      {asksUnit && (
        <label class="labelled">
          <span>Unit in which the junction of {name} is read</span>
          <select
            class="input"
            value={said.junctionUnit ?? ''}
            onChange={(e) => say({ junctionUnit: e.currentTarget.value })}
          >
            <option value="">choose</option>
            {DEGREES.map((u) => (
              <option key={u}>{u}</option>
            ))}
          </select>
        </label>
      )}
      {said.junction === FIXED && (
        <label class="labelled">
          <span>Temperature of the junction of {name}, °C; 0 where the logger makes up for it</span>
          <input
            class="input n"
            inputMode="decimal"
            value={said.fixed ?? '0'}
            onInput={(e) => say({ fixed: e.currentTarget.value })}
          />
        </label>
      )}
    </div>
  );
}
