import type { ComponentChildren } from 'preact';
import type { TalkedItem } from '../../../../shared/logbook/state/handovers.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { Overlay } from '../../parts/overlay.tsx';
import type { ShownItem } from './item-content.tsx';
import { EntryLinks, type Standing, Ways } from './ways.tsx';

interface Props {
  readonly view: View;
  readonly shown: ShownItem;
  readonly standing: Standing;
  /** What came up in the talk about it, and the entry that says so; none while it is only on this tablet. */
  readonly talked?: TalkedItem | undefined;
  readonly talkedIn?: string | undefined;
  /** Goes back to it in the talk. */
  readonly onAgain?: (() => void) | undefined;
  readonly onClose: () => void;
}

/** An item's lines as they stand in the list, each with the way to what it rests on. */
export function ItemSheet({ view, shown, standing, talked, talkedIn, onAgain, onClose }: Props) {
  const { title, lines, unsaid = [], carried = [] } = shown;
  const own = standing.handover ? [standing.handover] : [];
  return (
    <Overlay title={title} onClose={onClose}>
      {lines.length === 0 && <p class="dim">The log has nothing for it; it is told in the outgoing lead’s words.</p>}
      {carried.map(({ answer, reason }) => (
        <Section key={answer} text={`Refused before: ${reason}`}>
          <EntryLinks view={view} entries={[answer]} />
        </Section>
      ))}
      {lines.map((line) => (
        <Section key={`${line.asked}${line.text}`} text={line.text} asked={line.asked}>
          <Ways view={view} line={line} standing={standing} />
        </Section>
      ))}
      {unsaid.map((asked) => (
        <Section key={asked} text="nothing said" asked={asked}>
          <EntryLinks view={view} entries={own} />
        </Section>
      ))}
      {talked?.question && (
        <Section text={talked.answer ?? 'Not answered yet.'} asked={`Asked: ${talked.question}`}>
          <OfTalk view={view} talkedIn={talkedIn} />
        </Section>
      )}
      {talked?.refused && (
        <Section text={`Refused: ${talked.refused}`}>
          <OfTalk view={view} talkedIn={talkedIn} />
        </Section>
      )}
      {onAgain && (
        <button type="button" class="button wide" onClick={onAgain}>
          Talk it through again
        </button>
      )}
    </Overlay>
  );
}

function Section({ text, asked, children }: { text: string; asked?: string | undefined; children: ComponentChildren }) {
  return (
    <section class="ho-behind">
      <p>
        {asked && <span class="dim">{asked}: </span>}
        <b>{text}</b>
      </p>
      {children}
    </section>
  );
}

function OfTalk({ view, talkedIn }: { view: View; talkedIn: string | undefined }) {
  if (talkedIn) return <EntryLinks view={view} entries={[talkedIn]} />;
  return <p class="small dim">Noted on this tablet; it is kept with the talk, when every item is talked through.</p>;
}
