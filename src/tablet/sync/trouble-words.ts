import type { WaitReason } from '../../../shared/sync/client-state.ts';
import { isSyncErrorCode, nextSteps, syncErrors } from '../../../shared/sync/errors.ts';

/** What is wrong, and what a person does about it. */
export interface TroubleWords {
  readonly what: string;
  readonly help: string;
}

const ASK_FOR_CODE =
  'Ask whoever looks after the server for a new one-time code and join again. Recording goes on meanwhile.';
const BY_ITSELF = 'Recording goes on. The tablet tries again by itself.';

/** Where more can be said than the code's own words. */
const words: { readonly [W in WaitReason | 'unknown']?: TroubleWords } = {
  'no-answer': {
    what: 'No answer from the server: no network here, or the server is down.',
    help: `Nothing is wrong with the tablet. ${BY_ITSELF}`,
  },
  'unknown-answer': {
    what: 'What answers at this address is not the server, or a newer one than this app knows.',
    help: 'If the tablet is in another network, go back to the hall’s. If an update of the app is offered, take it.',
  },
  'storage-full': {
    what: 'What came in could not be stored on this tablet.',
    help: 'Free room on the tablet: Setup, This tablet shows how much is left. What was written here is safe.',
  },
  'bad-token': {
    what: 'The server lets this tablet in no more: its token was revoked, or the server’s database was made anew.',
    help: ASK_FOR_CODE,
  },
  'no-token': { what: 'The server asks for a token.', help: ASK_FOR_CODE },
  'wrong-code': {
    what: 'The server does not take this code: it is mistyped, used already, too old, or for another casting.',
    help: 'Compare it letter by letter. A code is good once and for an hour; ask for another if it does not help.',
  },
  'store-full': {
    what: 'The disk of the server is full.',
    help: `Tell whoever looks after the server. ${BY_ITSELF}`,
  },
  'server-fault': { what: 'The server failed.', help: `Tell whoever looks after it if this lasts. ${BY_ITSELF}` },
  'too-many-requests': { what: 'The server was asked too often.', help: BY_ITSELF },
};

/** Why nothing goes through, for people. */
export function troubleWords(why: string): TroubleWords {
  const known = words[why as WaitReason];
  if (known) return known;
  if (!isSyncErrorCode(why)) return words['unknown-answer']!;
  const { words: what, next } = syncErrors[why];
  return { what, help: nextSteps[next] };
}
