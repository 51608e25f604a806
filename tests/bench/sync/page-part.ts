/** What a first sync gave: all that is checked, stored and can be asked. */
export interface First {
  readonly ms: number;
  readonly entries: number;
  /** How many answers a question that was asked of it had. */
  readonly answers: number;
}

/** What opening again gave. */
export interface Opened extends First {
  /** From the call until something can be saved. */
  readonly ready_ms: number;
}

/** What each side's page can do; it stands in the page as `bench`. */
export interface PagePart {
  /** Ours alone: makes an empty store and joins the server. */
  prepare?(casting: string, code: string): Promise<void>;
  first(): Promise<First>;
  again(casting: string): Promise<Opened>;
  /** Ours alone: writes so many entries of this tablet. */
  write?(entries: number): Promise<void>;
  /** Ours alone: one pass of sync, in ms. */
  pass?(): Promise<number>;
  size?(): Promise<number>;
}
