import { useMemo } from 'preact/hooks';
import { useLocation } from 'preact-iso';
import { derivedFigures } from '../../../../shared/plan/derived-figures.ts';
import type { DerivedFigure, Design } from '../../../../shared/plan/schema.ts';
import type { Draft } from '../../app/use-draft.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { enterMovesOn, FigureField } from '../../shared-screens/fields/field.tsx';
import { BlankDrawing } from './blank-drawing.tsx';
import { DerivedList, InShort } from './derived-list.tsx';
import { type DesignKey, designFields, designGroups } from './design-fields.ts';
import { type DesignErrors, readDesign, refusalAt } from './read-design.ts';
import { type StartDraft, startingPoint } from './start-draft.ts';
import { StartFrame } from './start-frame.tsx';

const fieldId = (key: DesignKey): string => `design-${key}`;

export interface Judged {
  /** Null while a field holds no figure, or the calculations refuse the design. */
  readonly design: Design | null;
  readonly figures: readonly DerivedFigure[];
  readonly errors: DesignErrors;
  /** A refusal that no field is to blame for. */
  readonly refusal: string | null;
}

/** The design as it is typed, with what follows from it or what stands in its way. */
export function judge(texts: StartDraft['design']): Judged {
  const { design, errors } = readDesign(texts);
  if (!design) return { design, figures: [], errors, refusal: null };
  const derived = derivedFigures(design);
  if ('figures' in derived) return { design, figures: derived.figures, errors, refusal: null };
  const { key, words } = refusalAt(derived.error.path, derived.error.message);
  return { design: null, figures: [], errors: key ? { [key]: words } : {}, refusal: key ? null : words };
}

/** The design of the blank, and what follows from it while it is typed. */
export function DesignPage({ draft }: { draft: Draft<StartDraft> }) {
  const { route } = useLocation();
  const texts = draft.value.design;
  const judged = useMemo(() => judge(texts), [texts]);
  const { design, figures, errors, refusal } = judged;
  const wrong = designFields.filter(({ key }) => errors[key] !== undefined);
  const goOn = () => {
    if (design) return route('/start?step=casting');
    const first = wrong[0] && document.getElementById(fieldId(wrong[0].key));
    first?.scrollIntoView({ block: 'center' });
    first?.focus({ preventScroll: true });
  };
  return (
    <StartFrame name="Start" line="The design of the blank" note="step 1 of 2 · lengths at 20 °C" work="start-design">
      <Fields
        texts={texts}
        errors={errors}
        onText={(key, text) => draft.change({ design: { ...texts, [key]: text } })}
      />
      <Sheet title="What follows" class="start-follows" graduated>
        {design && <BlankDrawing design={design} />}
        {design ? <DerivedList figures={figures} /> : <Waiting errors={errors} refusal={refusal} />}
      </Sheet>
      <div class="start-action">
        {design && <InShort figures={figures} />}
        <a class="button" href="/start">
          Back
        </a>
        <button type="button" class={`button main ${design ? '' : 'missing'}`} onClick={goOn}>
          {design ? 'Go on with this blank' : `${wrong.length === 1 ? 'One field' : `${wrong.length} fields`} to mend`}
        </button>
      </div>
    </StartFrame>
  );
}

type FieldsProps = {
  texts: StartDraft['design'];
  errors: DesignErrors;
  onText: (key: DesignKey, text: string) => void;
};

function Fields({ texts, errors, onText }: FieldsProps) {
  const start = useMemo(startingPoint, []);
  const untouched = designFields.filter(({ key }) => texts[key] === start[key]).length;
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: Enter in any of the fields moves on; the fields are the controls
    <div class="start-fields stack" onKeyDown={enterMovesOn}>
      <Sheet title="Design" aside={`${untouched} of ${designFields.length} still the starting point`}>
        <p class="pad">
          The figures of the practice blank stand here, thin, as a <b>starting point</b>. Put yours in their place;
          comma and point both do.
        </p>
        {designGroups.map(({ name, fields }) => (
          <fieldset key={name} class="start-group">
            <legend>{name}</legend>
            <div class="start-grid">
              {fields.map(({ key, label, unit }) => (
                <FigureField
                  key={key}
                  id={fieldId(key)}
                  label={label}
                  unit={unit}
                  text={texts[key]}
                  onText={(text) => onText(key, text)}
                  error={errors[key]}
                  note={texts[key] === start[key] ? undefined : `starting point was ${start[key]}`}
                  quiet={texts[key] === start[key]}
                />
              ))}
            </div>
          </fieldset>
        ))}
      </Sheet>
    </div>
  );
}

function Waiting({ errors, refusal }: { errors: DesignErrors; refusal: string | null }) {
  const wrong = designFields.filter(({ key }) => errors[key]);
  return (
    <div class="empty" role="status">
      <p>
        Mould diameter, spin rate, glass mass and cores stand here once every field holds a figure that can be cast.
      </p>
      {refusal && <p class="form-error">{refusal}</p>}
      {wrong.slice(0, 4).map(({ key, label }) => (
        <p key={key}>
          <b>{label}.</b> {errors[key]}
        </p>
      ))}
    </div>
  );
}
