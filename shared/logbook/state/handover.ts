import type { Body } from '../kinds.ts';
import type { Kept } from '../log.ts';
import { channelLines, heatLines, roundLines } from './handover/heat-lines.ts';
import {
  changeLines,
  findingLines,
  halfDoneLines,
  holdLines,
  instrumentLines,
  nextLines,
  peopleLines,
  readingLines,
  stands,
  tabletLines,
  temporaryLines,
} from './handover/log-lines.ts';
import { momentsNow } from './handover/moments.ts';
import { type HandoverLine, line, type Preparing, sinceWords } from './handover/preparing.ts';
import { type Carried, carriedItems, HANDOVER_ROLE, type HandoverState, lastAccepted } from './handovers.ts';
import { openWork } from './next-step.ts';
import { byTime } from './readings.ts';
import { anyKind, type View } from './view.ts';

/** One item of a handover as it is prepared: what the log tells, and what the outgoing lead is asked. */
export interface PreparedItem {
  readonly item: string;
  readonly title: string;
  readonly lines: readonly HandoverLine[];
  /** What only a person can tell. */
  readonly prompts: readonly string[];
  /** Refusals of it that wait for an answer. */
  readonly carried: readonly Carried[];
}

export interface Prepared {
  readonly before: HandoverState | null;
  readonly since_ms: number | null;
  /** `since 22:05`. */
  readonly since: string;
  readonly items: readonly PreparedItem[];
  /** Moments in which nothing should be handed over, and that are now. */
  readonly moments: readonly string[];
}

/** What the tool does itself and need not ask: tablets, the talk, the cross-check. */
const DONE_BY_TOOL = /tablet|face to face|three channels/i;

/** Asked where an item was refused. */
export const CARRIED_PROMPT = 'What was done about the refusal';

/**
 * Works the handover out of the log: what an incoming lead must know, item by item, each line with its entries. It
 * goes on from the last accepted handover and tells what that one's tablet could not know, whenever it was observed.
 */
export function prepareHandover(view: View, now_ms: number): Prepared {
  const before = lastAccepted(view);
  const p: Preparing = {
    view,
    now_ms,
    before,
    since_ms: before ? Date.parse(before.handover.entry.recordedAt) : null,
    fresh: entriesSince(view, before?.handover ?? null),
  };
  const carried = carriedItems(view);
  const items = itemsOf(p).map((i) => withCarried(i, carried));
  const gone = carried.filter((c) => !items.some((i) => i.item === c.item));
  return {
    before,
    since_ms: p.since_ms,
    since: sinceWords(p),
    items: [...items, ...goneItems(gone)],
    moments: momentsNow(view, now_ms),
  };
}

/** The entries that stand and that were not known where a handover was prepared, oldest first. */
export const entriesSince = (view: View, before: Kept<'handover'> | null): readonly Kept[] =>
  view.memo.get(`since/${before?.hash}`, () => {
    const knew = (kept: Kept) =>
      before !== null && (kept.hash === before.hash || view.standing.knowledge.covers(anyKind(before), kept));
    return [...view.log.all()].filter((kept) => kept.kind !== null && !knew(kept) && stands(view, kept)).sort(byTime);
  });

type Item = Omit<PreparedItem, 'carried'>;

function itemsOf(p: Preparing): Item[] {
  const { view } = p;
  const asked = view.plan.handover.always.filter((words) => !DONE_BY_TOOL.test(words));
  const ofPeople = asked.filter((words) => /people|permit|isolation/i.test(words));
  const temporary = asked.filter((words) => /^temporary/i.test(words));
  const others = asked.filter((words) => !ofPeople.includes(words) && !temporary.includes(words));
  const stage = stageNow(view);
  const item = (id: string, title: string, lines: readonly HandoverLine[], prompts: readonly string[] = []): Item => ({
    item: id,
    title,
    lines,
    prompts,
  });
  const watched = [...channelLines(p), ...readingLines(p)];
  return [
    item('heat', 'Heat', heatLines(p)),
    item('rounds', 'Rounds', roundLines(p)),
    item('changes', 'What changed', changeLines(p)),
    item('findings', 'Findings', findingLines(p)),
    item('holds', 'Hold points', holdLines(p)),
    item(
      'watch',
      'Readings to watch',
      watched.length > 0
        ? watched
        : [
            line(`No reading ${p.since_ms === null ? '' : `${sinceWords(p)} `}is outside or not proven.`, [], {
              searched: ['reading'],
            }),
          ],
    ),
    item('temporary', 'Temporary arrangements', temporaryLines(p), temporary),
    item('instruments', 'Instruments and tablets', [...instrumentLines(p), ...tabletLines(p)]),
    item('people', 'People, permits, isolations', peopleLines(p), ofPeople),
    item('stage', stage ? `At this stage: ${stage.name}` : 'At this stage', halfDoneLines(p), stage?.prompts ?? []),
    item('next', 'Next, with its cautions', nextLines(p)),
    item('words', 'In the outgoing lead’s words', [], others),
  ];
}

/** The stage of the first operation that is under way, else of the first that is ready, with what the plan asks there. */
function stageNow(view: View): { name: string; prompts: readonly string[] } | null {
  const work = openWork(view);
  const operation = (work.find((s) => s.progress === 'under-way') ?? work[0])?.operation;
  const stage = view.plan.stages.find((s) => s.id === operation?.stage);
  if (!stage) return null;
  const prompts = view.plan.handover.byStage
    .filter(({ stages }) => namesStage(stages, stage.id))
    .flatMap((s) => s.items);
  return { name: stage.name, prompts };
}

/** Whether words like `1–2` or `4, 7 bake` name a stage. */
export function namesStage(words: string, stage: string): boolean {
  const wanted = Number(stage);
  return words.split(',').some((part) => {
    const [, from, to] = /^\s*(\d+)(?:\s*–\s*(\d+))?/.exec(part) ?? [];
    return from !== undefined && wanted >= Number(from) && wanted <= Number(to ?? from);
  });
}

function withCarried(item: Item, carried: readonly Carried[]): PreparedItem {
  const own = carried.filter((c) => c.item === item.item);
  return { ...item, carried: own, prompts: own.length > 0 ? [CARRIED_PROMPT, ...item.prompts] : item.prompts };
}

/** Refused items of a kind that this handover would not have. */
const goneItems = (carried: readonly Carried[]): PreparedItem[] =>
  [...new Set(carried.map((c) => c.item))].map((item) => {
    const own = carried.filter((c) => c.item === item);
    return { item, title: own[0]!.title, lines: [], prompts: [CARRIED_PROMPT], carried: own };
  });

/** How an answer to a prompt is named. */
export const promptKey = (item: string, prompt: string): string => `${item}/${prompt}`;

/** What is signed: the lines as they were shown, with what the outgoing lead answered. */
export function handoverBody(
  view: View,
  prepared: Prepared,
  said: Readonly<Record<string, string>>,
  name: string,
): Body<'handover'> {
  return {
    plan: view.planHash,
    before: prepared.before?.handover.hash ?? null,
    items: prepared.items.map((item) => itemBody(item, said, questionsOf(view, prepared))),
    ...(prepared.moments.length > 0 ? { moments: [...prepared.moments] } : {}),
    name,
    role: HANDOVER_ROLE,
  };
}

/** What an answer rests on beside the word of who signs it: the entry from which the question comes. */
type QuestionSource = (item: PreparedItem, asked: string, text: string) => string[];

/** The refusals that are answered; else the plan revision that asks, and the handover before where it said the same. */
function questionsOf(view: View, { before }: Prepared): QuestionSource {
  const asks = view.revisions.find((r) => r.hash === view.planHash)?.entries.map((e) => e.hash) ?? [];
  const saidBefore = (item: string, asked: string, text: string) =>
    before?.handover.body.items.some(
      (i) => i.item === item && i.lines.some((l) => l.asked === asked && l.text === text),
    )
      ? [before.handover.hash]
      : [];
  return ({ item, carried }, asked, text) =>
    asked === CARRIED_PROMPT ? carried.map((c) => c.answer) : [...asks, ...saidBefore(item, asked, text)];
}

function itemBody(shown: PreparedItem, said: Readonly<Record<string, string>>, sourceOf: QuestionSource) {
  const { item, title, lines, prompts, carried } = shown;
  const answerTo = (prompt: string) => said[promptKey(item, prompt)]?.trim() ?? '';
  const answers = prompts.flatMap((asked) => {
    const text = answerTo(asked);
    return text === '' ? [] : [{ text, entries: sourceOf(shown, asked, text), asked }];
  });
  const unsaid = prompts.filter((prompt) => answerTo(prompt) === '');
  return {
    item,
    title,
    lines: [...lines, ...answers],
    ...(unsaid.length > 0 ? { unsaid } : {}),
    ...(carried.length > 0 ? { carried: carried.map(({ answer, reason }) => ({ answer, reason })) } : {}),
  };
}
