/** What the tablet does about a refusal; `docs/sync.md` shows these words beside each code. */
export const nextSteps = {
  later: 'It tries the same again later, each time after a longer wait.',
  heads: 'It asks anew what the server has, and goes on from there.',
  smaller: 'It sends less at a time.',
  apart: 'It sends each chain by itself; the chain that is refused again waits and is named, the others go on.',
  join: 'It goes on recording, and a person lets it join anew.',
  stop: 'It leaves this be and names it: trying again would not help.',
} as const;

/** What a request to the server is refused with. Codes are for programs and never change; the words are for people. */
export const syncErrors = {
  'bad-request': { status: 400, next: 'stop', words: 'The request cannot be read.' },
  'bad-gzip': { status: 400, next: 'apart', words: 'The batch is damaged or was cut short on its way.' },
  'bad-batch': { status: 400, next: 'apart', words: 'The batch is not laid out as it must be.' },
  'blob-name': { status: 400, next: 'stop', words: 'A photo is named by 64 hex digits and nothing else.' },
  'blob-range': { status: 400, next: 'stop', words: 'The part does not lie in the photo as it says.' },
  'no-token': { status: 401, next: 'join', words: 'The request bears no token.' },
  'bad-token': { status: 401, next: 'join', words: 'The token is unknown, or it was revoked.' },
  'wrong-code': {
    status: 403,
    next: 'join',
    words: 'The one-time code is wrong, used, too old, or for another casting.',
  },
  'other-casting': { status: 403, next: 'apart', words: 'The entry belongs to another casting than the token.' },
  'not-found': { status: 404, next: 'stop', words: 'There is nothing of that name.' },
  gap: { status: 409, next: 'heads', words: 'An entry before it in its chain is not here yet.' },
  'blob-gap': { status: 409, next: 'heads', words: 'A part before it is not here yet.' },
  'blob-size': { status: 409, next: 'stop', words: 'The photo was begun with another size.' },
  'body-too-large': { status: 413, next: 'smaller', words: 'The body is larger than this server takes.' },
  'batch-too-large': {
    status: 413,
    next: 'smaller',
    words: 'The batch holds more entries or more text than this server takes.',
  },
  'blob-too-large': { status: 413, next: 'stop', words: 'The photo is larger than this server takes.' },
  'media-type': { status: 415, next: 'stop', words: 'The body is not of the kind that is taken here.' },
  'refused-entry': {
    status: 422,
    next: 'apart',
    words: 'An entry breaks the envelope: not canonical, too large, or no genesis of its casting.',
  },
  'wrong-hash': { status: 422, next: 'apart', words: 'The entries do not lead to the heads that the batch names.' },
  'blob-hash': { status: 422, next: 'heads', words: 'The bytes are not those that the name says.' },
  'too-many-requests': {
    status: 429,
    next: 'later',
    words: 'There were too many requests; wait as long as the answer says.',
  },
  'server-fault': { status: 500, next: 'later', words: 'The server failed. Nothing of the request was kept.' },
  'store-full': {
    status: 507,
    next: 'later',
    words: 'The disk of the server is full. Nothing of the request was kept.',
  },
} as const satisfies Readonly<
  Record<string, { readonly status: number; readonly next: keyof typeof nextSteps; readonly words: string }>
>;

export type SyncErrorCode = keyof typeof syncErrors;

export const isSyncErrorCode = (code: unknown): code is SyncErrorCode =>
  typeof code === 'string' && Object.hasOwn(syncErrors, code);
