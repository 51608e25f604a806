import { useSignal } from '@preact/signals';
import { Fragment } from 'preact';
import { useMemo } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import type { Role } from '../../../../shared/logbook/kinds.ts';
import type { Design } from '../../../../shared/plan/schema.ts';
import { Problem } from '../../app/problem.tsx';
import { settings } from '../../app/settings.ts';
import type { Draft } from '../../app/use-draft.ts';
import { useSaving } from '../../app/use-saving.ts';
import { Figure } from '../../parts/figure.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import { ChoosePin, PIN_WORDS } from '../../shared-screens/fields/choose-pin.tsx';
import { enterMovesOn, SelectField, TextField } from '../../shared-screens/fields/field.tsx';
import { RoleBoxes } from '../../shared-screens/fields/role-boxes.tsx';
import { Caution } from './caution.tsx';
import { judge } from './design-page.tsx';
import { type CastingErrors, missingOf } from './read-casting.ts';
import type { StartDraft } from './start-draft.ts';
import { StartFrame } from './start-frame.tsx';

const zones = (current: string): { value: string; label: string }[] =>
  [...new Set([current, 'UTC', ...Intl.supportedValuesOf('timeZone')])].map((zone) => ({
    value: zone,
    label: zone.replaceAll('_', ' '),
  }));

/** The casting itself: its name, day 1, this tablet and the one who starts it. */
export function CastingPage({ draft }: { draft: Draft<StartDraft> }) {
  const { route } = useLocation();
  const pin = useSignal<string | null>(null);
  const choosing = useSignal(false);
  const asked = useSignal(false);
  const { busy, problem, run } = useSaving();
  const { design, figures } = useMemo(() => judge(draft.value.design), [draft.value.design]);
  const missing = missingOf(draft.value, pin.value !== null);
  const count = Object.keys(missing).length;
  if (!design) return <NoDesign />;

  const start = async () => {
    asked.value = true;
    if (count > 0) return focusFirst(missing);
    await run(async () => {
      await make(draft.value, design, pin.value!);
      await draft.clear();
      route('/start?step=made');
      return true;
    });
  };
  const errors: CastingErrors = asked.value ? missing : {};
  return (
    <StartFrame name="Start" line="The casting" note="step 2 of 2" work="start-casting">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls */}
      <div class="start-fields stack" onKeyDown={enterMovesOn}>
        <CastingFields draft={draft} errors={errors} />
        <FounderFields
          draft={draft}
          errors={errors}
          hasPin={pin.value !== null}
          onChoose={() => {
            choosing.value = true;
          }}
        />
      </div>
      <Sheet title="Before it is made" class="start-follows" graduated>
        <Summary figures={figures} draft={draft.value} />
        {problem && (
          <Problem
            title="The casting was not started"
            words={problem}
            safe="What you typed is kept. Nothing else on this tablet was touched."
          />
        )}
      </Sheet>
      <div class="start-action">
        <a class="button" href="/start?step=design">
          Back
        </a>
        <button
          type="button"
          class={`button main ${count > 0 ? 'missing' : ''}`}
          aria-busy={busy}
          onClick={() => void start()}
        >
          {busy
            ? 'Making keys and plan'
            : count > 0
              ? `Start: ${count === 1 ? 'one thing' : `${count} things`} missing`
              : 'Start the casting'}
        </button>
      </div>
      {choosing.value && (
        <ChoosePin
          who={draft.value.founderName.trim() || 'Whoever starts the casting'}
          onPin={(chosen) => {
            pin.value = chosen;
            choosing.value = false;
          }}
          onClose={() => {
            choosing.value = false;
          }}
        />
      )}
    </StartFrame>
  );
}

/** The act brings the whole plan with it: loaded only now. */
async function make(draft: StartDraft, design: Design, pin: string): Promise<void> {
  const { startCasting } = await import('../../acts/start-casting.ts');
  await startCasting({
    name: draft.name.trim(),
    design,
    timeZone: draft.timeZone,
    dayOne: draft.dayOne,
    tabletName: draft.tabletName.trim(),
    founder: { name: draft.founderName.trim(), roles: withKeeper(draft.founderRoles), pin },
  });
}

const withKeeper = (roles: readonly Role[]): Role[] => [...roles.filter((role) => role !== 'keeper'), 'keeper'];

function focusFirst(missing: CastingErrors): void {
  const first = document.getElementById(`start-${Object.keys(missing)[0]}`);
  first?.scrollIntoView({ block: 'center' });
  first?.focus({ preventScroll: true });
}

type Part = { draft: Draft<StartDraft>; errors: CastingErrors };

function CastingFields({ draft: { value, change }, errors }: Part) {
  return (
    <Sheet title="Casting and tablet">
      <div class="pad start-grid start-grid-wide">
        <TextField
          id="start-name"
          label="Name of the casting"
          text={value.name}
          onText={(name) => change({ name })}
          error={errors.name}
        />
        <TextField
          id="start-tabletName"
          label="Name of this tablet"
          text={value.tabletName}
          onText={(tabletName) => change({ tabletName })}
          error={errors.tabletName}
        />
        <TextField
          id="start-dayOne"
          date
          label="Day 1"
          text={value.dayOne}
          onText={(dayOne) => change({ dayOne })}
          error={errors.dayOne}
        />
        <SelectField
          label="Time zone of the hall"
          text={value.timeZone}
          onText={(timeZone) => change({ timeZone })}
          choices={zones(value.timeZone)}
        />
      </div>
    </Sheet>
  );
}

function FounderFields({ draft, errors, hasPin, onChoose }: Part & { hasPin: boolean; onChoose: () => void }) {
  const { value, change } = draft;
  return (
    <Sheet title="Who starts it">
      <div class="pad start-grid start-grid-wide">
        <TextField
          id="start-founderName"
          label="Your name"
          text={value.founderName}
          onText={(founderName) => change({ founderName })}
          error={errors.founderName}
        />
        <div class="form-field labelled">
          <span>Your PIN</span>
          <button id="start-pin" type="button" class="button wide" onClick={onChoose} aria-describedby="start-pin-said">
            {hasPin ? 'Chosen. Choose another' : 'Choose a PIN'}
          </button>
          <p id="start-pin-said" class={errors.pin ? 'form-error' : 'note'}>
            {errors.pin ?? PIN_WORDS}
          </p>
        </div>
      </div>
      <RoleBoxes
        legend="Your roles"
        roles={value.founderRoles}
        onRoles={(founderRoles) => change({ founderRoles })}
        fixed={{ role: 'keeper', why: 'whoever starts a casting admits its first people.' }}
      />
    </Sheet>
  );
}

const SUMMARY = ['tub-inner-diameter', 'spin-rate', 'glass-mass', 'core-count'];

function Summary({ figures, draft }: { figures: ReturnType<typeof judge>['figures']; draft: StartDraft }) {
  const { decimalMark } = settings.value;
  return (
    <div class="pad start-summary">
      <dl class="facts">
        <dt>Blank</dt>
        <dd>
          <span class="n">{draft.design.blank_diameter_mm}</span> mm, radius of curvature{' '}
          <span class="n">{draft.design.radius_of_curvature_m}</span> m
        </dd>
        {SUMMARY.map((id) => figures.find((figure) => figure.id === id)!).map((figure) => (
          <Fragment key={figure.id}>
            <dt>{figure.name}</dt>
            <dd>
              <Figure {...figure} decimalMark={decimalMark} />
            </dd>
          </Fragment>
        ))}
      </dl>
      <p>
        The design goes into the first entry of the log, and the casting’s fingerprint is taken from it. A later change
        of limits is a revision of the plan, by a process engineer.
      </p>
      <Caution />
    </div>
  );
}

function NoDesign() {
  return (
    <StartFrame name="Start" line="The casting" note="step 2 of 2" work="start-ways">
      <Sheet title="The design comes first">
        <div class="pad start-way">
          <p>The design of the blank has a field that holds no figure yet, or one that cannot be cast.</p>
          <a class="button main" href="/start?step=design">
            To the design
          </a>
        </div>
      </Sheet>
    </StartFrame>
  );
}
