/** What a request to the server is refused with. Codes are for programs and never change; the words are for people. */
export const syncErrors = {
  'bad-request': { status: 400, words: 'The request cannot be read.' },
  'bad-gzip': { status: 400, words: 'The batch is damaged or was cut short on its way.' },
  'bad-batch': { status: 400, words: 'The batch is not laid out as it must be.' },
  'blob-name': { status: 400, words: 'A photo is named by 64 hex digits and nothing else.' },
  'blob-range': { status: 400, words: 'The part does not lie in the photo as it says.' },
  'no-token': { status: 401, words: 'The request bears no token.' },
  'bad-token': { status: 401, words: 'The token is unknown, or it was revoked.' },
  'wrong-code': { status: 403, words: 'The one-time code is wrong, used, too old, or for another casting.' },
  'other-casting': { status: 403, words: 'The entry belongs to another casting than the token.' },
  'not-found': { status: 404, words: 'There is nothing of that name.' },
  gap: { status: 409, words: 'An entry before it in its chain is not here yet.' },
  'blob-gap': { status: 409, words: 'A part before it is not here yet.' },
  'blob-size': { status: 409, words: 'The photo was begun with another size.' },
  'body-too-large': { status: 413, words: 'The body is larger than this server takes.' },
  'batch-too-large': { status: 413, words: 'The batch holds more entries or more text than this server takes.' },
  'blob-too-large': { status: 413, words: 'The photo is larger than this server takes.' },
  'media-type': { status: 415, words: 'The body is not of the kind that is taken here.' },
  'refused-entry': {
    status: 422,
    words: 'An entry breaks the envelope: not canonical, too large, or no genesis of its casting.',
  },
  'wrong-hash': { status: 422, words: 'The entries do not lead to the heads that the batch names.' },
  'blob-hash': { status: 422, words: 'The bytes are not those that the name says.' },
  'too-many-requests': { status: 429, words: 'There were too many requests; wait as long as the answer says.' },
  'server-fault': { status: 500, words: 'The server failed. Nothing of the request was kept.' },
  'store-full': { status: 507, words: 'The disk of the server is full. Nothing of the request was kept.' },
} as const satisfies Readonly<Record<string, { readonly status: number; readonly words: string }>>;

export type SyncErrorCode = keyof typeof syncErrors;
