/** What the bench uses of peers that bring no types. */
declare module 'express' {
  import type { IncomingMessage, RequestListener, ServerResponse } from 'node:http';

  interface Answer extends ServerResponse {
    type(name: string): this;
  }
  type Handler = (request: IncomingMessage, response: Answer) => void;
  interface App extends RequestListener {
    use(handler: unknown): void;
    use(path: string, handler: unknown): void;
    get(path: string, handler: Handler): void;
  }
  const express: { (): App; static(folder: string): Handler };
  export default express;
}

declare module 'pouchdb' {
  export interface Database {
    bulkDocs(docs: readonly object[]): Promise<unknown>;
    info(): Promise<{ doc_count: number }>;
    get(id: string): Promise<unknown>;
    close(): Promise<void>;
    readonly replicate: { from(url: string, options: { batch_size: number }): Promise<{ docs_written: number }> };
  }
  export interface DatabaseClass {
    new (name: string, options?: { adapter: string }): Database;
    defaults(options: { prefix: string }): DatabaseClass;
  }
  const PouchDB: DatabaseClass;
  export default PouchDB;
}

declare module 'express-pouchdb' {
  const pouchServer: (
    PouchDB: unknown,
    options: { mode: 'minimumForPouchDB'; inMemoryConfig: boolean },
  ) => (request: unknown, response: unknown) => void;
  export default pouchServer;
}
