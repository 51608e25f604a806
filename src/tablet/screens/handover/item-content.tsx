import type { HandoverLine } from '../../../../shared/logbook/state/handover/preparing.ts';
import type { TalkedItem } from '../../../../shared/logbook/state/handovers.ts';

/** One item of a handover, prepared or signed. */
export interface ShownItem {
  readonly item: string;
  readonly title: string;
  readonly lines: readonly HandoverLine[];
  readonly unsaid?: readonly string[] | undefined;
  readonly carried?: readonly { readonly answer: string; readonly reason: string }[] | undefined;
}

/** What an item says: refusals that it answers, its lines, what was not said, and what came up in the talk. */
export function ItemContent({ shown, talked }: { shown: ShownItem; talked?: TalkedItem | undefined }) {
  const { title, lines, unsaid = [], carried = [] } = shown;
  return (
    <span class="grow ho-content">
      <b class="ho-title">{title}</b>
      {carried.map(({ answer, reason }) => (
        <span key={answer} class="ho-line ho-carried">
          Refused before: {reason}
        </span>
      ))}
      {lines.map(({ text, asked }) => (
        <span key={`${asked}${text}`} class="ho-line">
          {asked && <span class="dim">{asked}: </span>}
          {text}
        </span>
      ))}
      {unsaid.map((asked) => (
        <span key={asked} class="ho-line ho-unsaid">
          {asked}: nothing said
        </span>
      ))}
      {talked?.question && (
        <span class="ho-line ho-asked">
          Asked: {talked.question}
          {talked.answer ? ` Answered: ${talked.answer}` : ' Not answered yet.'}
        </span>
      )}
      {talked?.refused && <span class="ho-line ho-carried">Refused: {talked.refused}</span>}
    </span>
  );
}
