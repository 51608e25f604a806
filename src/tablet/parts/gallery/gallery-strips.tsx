import { LimitStrip, type LimitStripProps } from '../limit-strip.tsx';
import { Sheet } from '../sheet.tsx';
import './gallery.css';

const TUB = { lower: 3215.74, upper: 3218.74, nominal: 3217.24, guard: 0.34, decimals: 2, unit: 'mm' } as const;
type State = { name: string } & Omit<LimitStripProps, 'size'>;

const STATES: State[] = [
  { name: 'within', ...TUB, value: 3217.6, verdict: 'within' },
  { name: 'not proven', ...TUB, value: 3218.52, verdict: 'not-proven' },
  { name: 'outside', ...TUB, value: 3219.3, verdict: 'outside' },
  { name: 'off the strip', ...TUB, value: 3224, verdict: 'outside' },
  { name: 'not measured', ...TUB, value: null, verdict: null },
  { name: 'typed, not judged', ...TUB, value: 3217.1, verdict: null },
];
const NO_NOMINAL = { ...TUB, nominal: null };
const FEWER: State[] = [
  {
    ...NO_NOMINAL,
    name: 'upper limit only',
    lower: null,
    upper: 16,
    value: 14.9,
    guard: 0.6,
    decimals: 1,
    verdict: 'within',
  },
  {
    ...NO_NOMINAL,
    name: 'lower limit only',
    lower: 2773,
    upper: null,
    value: 2861,
    guard: 18,
    decimals: 0,
    verdict: 'within',
  },
  { ...NO_NOMINAL, name: 'no limits', lower: null, upper: null, value: 8.3, guard: 0.6, verdict: null },
  { ...TUB, name: 'large guard', guard: 1.2, value: 3217.4, verdict: 'not-proven' },
  { ...TUB, name: 'guard fills it', guard: 1.7, value: 3217.4, verdict: 'not-proven' },
  { ...TUB, name: 'off, low', value: 3210, verdict: 'outside' },
  { ...TUB, name: 'superseded', superseded: { lower: 3216.24, upper: 3218.24 }, value: 3217.1, verdict: 'within' },
];

/** The limit strip in every state and size. */
export function GalleryStrips() {
  return (
    <>
      <Sheet title="Limit strip" aside="S, M, L">
        <ul class="rows gallery-strips">
          {STATES.map(({ name, ...strip }) => (
            <li key={name}>
              <span>{name}</span>
              <LimitStrip size="S" {...strip} />
              <LimitStrip size="M" {...strip} />
              <LimitStrip size="L" {...strip} />
            </li>
          ))}
        </ul>
      </Sheet>
      <Sheet title="Fewer limits, and edges">
        <ul class="rows gallery-strips">
          {FEWER.map(({ name, ...strip }) => (
            <li key={name}>
              <span>{name}</span>
              <LimitStrip size="S" {...strip} />
              <LimitStrip size="M" {...strip} />
              <LimitStrip size="L" {...strip} />
            </li>
          ))}
        </ul>
      </Sheet>
    </>
  );
}
