// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from '@testing-library/preact';
import { afterEach, expect, it } from 'vitest';
import { CustomerAgreed } from '../../src/tablet/screens/findings/customer-agreed.tsx';
import { type DecisionDraft, emptyDecision } from '../../src/tablet/screens/findings/decision.ts';
import { tablets } from '../logbook/world.ts';

afterEach(cleanup);

it('leaves the date on which the customer agreed to be given, whichever way they agreed', () => {
  const [tablet] = tablets(['A']);
  const changes: Partial<DecisionDraft>[] = [];
  render(
    <CustomerAgreed
      view={tablet!.view()}
      value={emptyDecision}
      today="2026-03-02"
      change={(part) => changes.push(part)}
    />,
  );
  for (const way of [/^by letter/, /^by call/, /^present/]) fireEvent.click(screen.getByRole('radio', { name: way }));
  expect(changes).toEqual([{ how: 'letter' }, { how: 'call' }, { how: 'present' }]);
});
