import type { FunctionComponent } from 'preact';
import { useLocation } from 'preact-iso';
import { Screen } from '../../app/screen.tsx';
import { Appearance } from './appearance.tsx';
import { Castings } from './castings.tsx';
import { HallPart } from './hall-part.tsx';
import { Instruments } from './instruments.tsx';
import { People } from './people.tsx';
import { Tablets } from './tablets.tsx';
import { ThisTablet } from './this-tablet.tsx';
import './setup.css';

type Part = { readonly id: string; readonly name: string; readonly shows: FunctionComponent };

const parts: readonly Part[] = [
  { id: 'people', name: 'People', shows: People },
  { id: 'instruments', name: 'Instruments', shows: Instruments },
  { id: 'hall', name: 'Emergency numbers', shows: HallPart },
  { id: 'tablets', name: 'Tablets', shows: Tablets },
  { id: 'tablet', name: 'This tablet', shows: ThisTablet },
  { id: 'looks', name: 'How it looks', shows: Appearance },
  { id: 'castings', name: 'Castings', shows: Castings },
];

/** People, instruments, the hall's numbers, tablets and files, this tablet, how it looks, and the castings on it. */
export function Setup() {
  const { part } = useLocation().query;
  const current = parts.find(({ id }) => id === part) ?? parts[0]!;
  const Shown = current.shows;
  return (
    <Screen place="setup" name="Setup" detail={current.name} work="setup">
      <nav class="setup-parts" aria-label="Parts of Setup">
        {parts.map(({ id, name }) => (
          <a key={id} href={`/setup?part=${id}`} aria-current={id === current.id ? 'page' : undefined}>
            {name}
          </a>
        ))}
        <a href="/plan">Plan</a>
      </nav>
      <Shown key={current.id} />
    </Screen>
  );
}
