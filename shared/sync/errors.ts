export const syncErrors = {
  'not-found': { status: 404 }, 'bad-request': { status: 400 }, 'body-too-large': { status: 413 }, 'media-type': { status: 415 },
  'no-token': { status: 401 }, 'bad-token': { status: 401 }, 'wrong-code': { status: 403 }, 'too-many-requests': { status: 429 },
  'blob-name': { status: 400 }, 'blob-range': { status: 400 }, 'blob-gap': { status: 409 }, 'blob-size': { status: 409 }, 'blob-hash': { status: 422 }, 'blob-too-large': { status: 413 },
  'store-full': { status: 507 }, 'server-fault': { status: 500 },
} as const;
export type SyncErrorCode = keyof typeof syncErrors;
