/**
 * Walks a list in which each item's answer rests on those before it, and keeps the answers: with one more item at the
 * end only that one is worked out; with one that comes late, it and those behind it.
 */
export class Strand<Item extends object, Answer extends object> {
  private readonly kept = new WeakMap<Item, { readonly before: Answer; readonly answer: Answer }>();

  /**
   * @param root what the first item starts from; another object starts anew
   * @param step gives the answer of an item from the answers so far, the root first, and from nothing else
   */
  follow(root: Answer, items: readonly Item[], step: (before: readonly Answer[], item: Item) => Answer): Answer[] {
    const answers = [root];
    for (const item of items) {
      const before = answers.at(-1)!;
      const found = this.kept.get(item);
      const answer = found?.before === before ? found.answer : step(answers, item);
      if (answer !== found?.answer) this.kept.set(item, { before, answer });
      answers.push(answer);
    }
    return answers.slice(1);
  }
}
