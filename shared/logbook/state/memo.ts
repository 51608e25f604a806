import type { Log } from '../log.ts';

interface Answer {
  readonly value: unknown;
  /** Answers that were worked out from this one. */
  readonly users: Set<string>;
}

/** Answers by name, each worked out when it is first asked for. */
export interface Answers {
  get<T>(key: string, work: () => T): T;
  /** The answers of the same log under another plan, kept apart by that plan's name. */
  under(plan: string): Answers;
}

/**
 * Answers kept until something that they were worked out from changes. Each answer notes the parts of the log that it
 * read and the answers that it used; a new entry takes back only what rests on its own parts.
 */
export class Memo implements Answers {
  private readonly answers = new Map<string, Answer>();
  private readonly readers = new Map<string, Set<string>>();
  private readonly open: string[] = [];

  constructor(log: Log) {
    log.watch({
      read: (part) => this.note(part),
      touched: (parts) => {
        for (const part of parts) this.takeBack(part);
      },
      upset: () => this.clear(),
    });
  }

  get<T>(key: string, work: () => T): T {
    const user = this.open.at(-1);
    const found = this.answers.get(key);
    if (found) {
      if (user !== undefined) found.users.add(user);
      return found.value as T;
    }
    this.open.push(key);
    try {
      const value = work();
      this.answers.set(key, { value, users: new Set(user === undefined ? [] : [user]) });
      return value;
    } finally {
      this.open.pop();
    }
  }

  under(plan: string): Answers {
    return { get: (key, work) => this.get(`${plan}|${key}`, work), under: (other) => this.under(other) };
  }

  clear(): void {
    this.answers.clear();
    this.readers.clear();
  }

  private note(part: string): void {
    const reader = this.open.at(-1);
    if (reader === undefined) return;
    const readers = this.readers.get(part);
    if (readers) readers.add(reader);
    else this.readers.set(part, new Set([reader]));
  }

  private takeBack(part: string): void {
    const readers = this.readers.get(part);
    if (!readers) return;
    this.readers.delete(part);
    for (const key of readers) this.forget(key);
  }

  private forget(key: string): void {
    const answer = this.answers.get(key);
    if (!answer) return;
    this.answers.delete(key);
    for (const user of answer.users) this.forget(user);
  }
}

/** Answers for one question that is asked and done with, e.g. what a plan that nobody signed would do. */
export class OnceAnswers implements Answers {
  private readonly found = new Map<string, unknown>();

  /** @param kept where the answers under plans that do stand are kept. */
  constructor(private readonly kept: Answers) {}

  get<T>(key: string, work: () => T): T {
    if (this.found.has(key)) return this.found.get(key) as T;
    const value = work();
    this.found.set(key, value);
    return value;
  }

  under(plan: string): Answers {
    return this.kept.under(plan);
  }
}
