// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, within } from '@testing-library/preact';
import { useState } from 'preact/hooks';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { applyKey, type Key } from '../../src/tablet/parts/apply-key.ts';
import { ChoiceList } from '../../src/tablet/parts/choice-list.tsx';
import { Keypad } from '../../src/tablet/parts/keypad.tsx';
import { LimitStrip } from '../../src/tablet/parts/limit-strip.tsx';
import { PinPad } from '../../src/tablet/parts/pin-pad.tsx';
import { ReadingField } from '../../src/tablet/parts/reading-field.tsx';
import { spineWords } from '../../src/tablet/parts/spine.tsx';
import { stateWords } from '../../src/tablet/parts/state-line.tsx';
import { TitleBlock } from '../../src/tablet/parts/title-block.tsx';
import { VerdictDrawing } from '../../src/tablet/parts/verdict-mark.tsx';
import { WallGrid } from '../../src/tablet/parts/wall-grid.tsx';
import { WorkingTable } from '../../src/tablet/parts/working-table.tsx';
import { YesNoRow } from '../../src/tablet/parts/yes-no-row.tsx';

afterEach(cleanup);

const TUB = { lower: 3215.74, upper: 3218.74, nominal: 3217.24, guard: 0.34, decimals: 2, unit: 'mm' };

describe('LimitStrip', () => {
  it('says what it shows, and prints both limits', () => {
    const { container } = render(
      <LimitStrip size="M" {...TUB} value={3218.52} verdict="not-proven" label="105° at 500 mm" />,
    );
    expect(container.textContent).toContain(
      '105° at 500 mm: 1.28 above nominal, upper limit 1.50, guard 0.34: not proven',
    );
    expect(container.textContent).toContain('3\u202f215.74');
    expect(container.textContent).toContain('3\u202f218.74');
  });
  it('draws the verdict that it is given, whatever the place', () => {
    const { container } = render(<LimitStrip size="S" {...TUB} value={3217.24} verdict="outside" />);
    expect(container.querySelector('.diamond.outside')).not.toBeNull();
  });
  it('draws no diamond and no chevron when nothing is measured', () => {
    const { container } = render(<LimitStrip size="L" {...TUB} value={null} verdict={null} />);
    expect(container.querySelector('.diamond')).toBeNull();
    expect(container.querySelectorAll('.strip-post')).toHaveLength(2);
  });
  it('turns the chevron to the end that the value is past', () => {
    const path = (value: number) => {
      const { container } = render(<LimitStrip size="M" {...TUB} value={value} verdict="outside" />);
      return container.querySelector('.strip-chevron')!.getAttribute('d');
    };
    expect(path(3230)).toMatch(/^M\d/);
    expect(path(3200)).toMatch(/^M-/);
  });
});

describe('VerdictDrawing', () => {
  it('tells low from high by the side of the diamond', () => {
    const tip = (side: 'low' | 'high') => {
      const { container } = render(<VerdictDrawing verdict="outside" side={side} />);
      return Number(container.querySelector('.diamond-edge')!.getAttribute('points')!.split(',')[0]);
    };
    expect(tip('low')).toBeLessThan(12);
    expect(tip('high')).toBeGreaterThan(12);
  });
});

function Entry({ onEnter = () => undefined }: { onEnter?: (text: string) => void }) {
  const [text, setText] = useState('');
  const press = (key: Key) => setText((typed) => applyKey(typed, key));
  return (
    <>
      <ReadingField label="station" text={text} onText={setText} onEnter={() => onEnter(text)} unit="mm" />
      <Keypad onKey={press} onEnter={() => onEnter(text)} enterTarget="to 120°" extraLabel="Repeat reading" />
    </>
  );
}

describe('ReadingField and Keypad', () => {
  const field = () => screen.getByRole<HTMLInputElement>('textbox');
  it('write into one field, thousands parted', () => {
    render(<Entry />);
    for (const name of ['3', '2', '1', '8', 'decimal mark', '9']) fireEvent.click(screen.getByRole('button', { name }));
    expect(field().value).toBe('3\u202f218.9');
    fireEvent.click(screen.getByRole('button', { name: 'Rub out' }));
    expect(field().value).toBe('3\u202f218.');
  });
  it('keeps what is no figure as it was typed', () => {
    render(<Entry />);
    fireEvent.input(field(), { target: { value: '3218,4x' } });
    expect(field().value).toBe('3218,4x');
  });
  it('enters by key and by button, with the text as typed', () => {
    const onEnter = vi.fn();
    render(<Entry onEnter={onEnter} />);
    fireEvent.input(field(), { target: { value: '3218,4' } });
    fireEvent.keyDown(field(), { key: 'Enter' });
    fireEvent.click(screen.getByRole('button', { name: /Enter/ }));
    expect(onEnter.mock.calls).toEqual([['3218,4'], ['3218,4']]);
  });
  it('leaves the focus in the field while keys are pressed', () => {
    render(<Entry />);
    expect(fireEvent.mouseDown(screen.getByRole('button', { name: '7' }))).toBe(false);
  });
  it('offers no sign and no mark where there is none to give', () => {
    render(<Keypad digitsOnly onKey={() => undefined} onEnter={() => undefined} />);
    expect(screen.queryByRole('button', { name: 'decimal mark' })).toBeNull();
    expect(screen.queryByRole('button', { name: 'turn the sign' })).toBeNull();
  });
});

describe('PinPad', () => {
  it('takes 4 to 8 digits, shows dots only and keeps the error', () => {
    const onPin = vi.fn();
    render(<PinPad title="Sign" who="Ruth V." onPin={onPin} onClose={() => undefined} error="That is not the PIN." />);
    const field = screen.getByLabelText<HTMLInputElement>('PIN of Ruth V.');
    for (const key of ['1', '2', '3']) fireEvent.keyDown(field, { key });
    fireEvent.keyDown(field, { key: 'Enter' });
    expect(onPin).not.toHaveBeenCalled();
    expect(screen.getByRole('status').textContent).toContain('at least 4');
    for (const key of ['4', '5', '6', '7', '8', '9']) fireEvent.keyDown(field, { key });
    expect(field.value).toBe('●'.repeat(8));
    expect(screen.getByRole('status').textContent).toBe('That is not the PIN.');
    fireEvent.keyDown(field, { key: 'Enter' });
    expect(onPin).toHaveBeenCalledWith('12345678');
    expect(field.value).toBe('');
  });
});

describe('YesNoRow and ChoiceList', () => {
  it('answers by word', () => {
    const onAnswer = vi.fn();
    render(<YesNoRow number="3.1" text="Pins are seated" answer={null} onAnswer={onAnswer} />);
    const item = within(screen.getByRole('group'));
    fireEvent.click(item.getByLabelText('no'));
    expect(onAnswer).toHaveBeenCalledWith('no');
  });
  it('offers what is given, one chosen', () => {
    const choices = [
      { value: 'a', label: 'First' },
      { value: 'b', label: 'Second' },
    ];
    render(<ChoiceList legend="Which" choices={choices} value="b" onChoice={() => undefined} />);
    expect(screen.getByLabelText<HTMLInputElement>('Second').checked).toBe(true);
  });
});

describe('WallGrid', () => {
  const cell = (value: number | null) => ({ ...TUB, value, verdict: value === null ? null : ('within' as const) });
  it('names each station and walks by arrow keys', () => {
    const onChoose = vi.fn();
    render(
      <WallGrid
        label="Wall"
        columns={['0°', '15°']}
        rows={['500', '300']}
        rowUnit="mm"
        unit="mm"
        decimals={2}
        cells={[
          [cell(3217.5), cell(null)],
          [cell(3217), cell(3217.24)],
        ]}
        current={{ row: 0, column: 0 }}
        onChoose={onChoose}
      />,
    );
    const first = screen.getByRole('button', {
      name: '0° at 500 mm: 0.26 above nominal, upper limit 1.50, guard 0.34: within',
    });
    expect(first.tabIndex).toBe(0);
    fireEvent.keyDown(first, { key: 'ArrowRight' });
    expect(document.activeElement).toBe(screen.getByRole('button', { name: '15° at 500 mm: not measured' }));
    fireEvent.click(document.activeElement!);
    expect(onChoose).toHaveBeenCalledWith(0, 1);
  });
});

describe('WorkingTable', () => {
  it('lowers indices, parts thousands and writes a true minus', () => {
    const line = { meaning: 'at 20 °C', unit: 'mm', source: 'ISO 1' };
    const { container } = render(
      <WorkingTable
        caption="Diameter"
        lines={[
          { ...line, symbol: 'L_20', value: '3218.520', formula: 'L · (1 + α_s)' },
          { ...line, symbol: 'd', value: -0.44 },
        ]}
      />,
    );
    expect([...container.querySelectorAll('sub')].map((sub) => sub.textContent)).toEqual(['20', 's']);
    expect(container.textContent).toContain('3\u202f218.520');
    expect(container.textContent).toContain('\u22120.44');
  });
});

describe('the frame', () => {
  it('has one h1, the word Practice, and unfolds the places under the title', () => {
    render(
      <TitleBlock
        screen="Survey"
        operation="Tub"
        practice
        person={null}
        state={{ waiting: 23, since: null, late: false }}
        clock={{ time: '14:32', day: 'day 66' }}
        places={[{ href: '#record', label: 'Record', icon: 'record', underTitle: true }]}
      />,
    );
    expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('Survey');
    expect(screen.getAllByText('Practice').length).toBeGreaterThan(0);
    const more = screen.getByRole('button', { name: 'More places' });
    fireEvent.click(more);
    expect(more.getAttribute('aria-expanded')).toBe('true');
  });
  it('says what waits, and an alarm before anything else', () => {
    expect(stateWords({ waiting: 23, since: null, late: false })).toBe('Kept here · 23 not yet elsewhere');
    expect(stateWords({ waiting: 0, since: '09:10', late: false })).toBe('Kept here and elsewhere');
    expect(stateWords({ waiting: 3, since: null, late: true, alarm: 'Storage is full' })).toBe('Storage is full');
  });
  it('says where the sequence stands and which hold point is next', () => {
    const stages = [
      { name: 'Tub', operations: 6, done: 6, gates: [{ at: 1, state: 'in-doubt' as const, name: 'H2' }] },
      { name: 'Preheat', operations: 5, done: 2, gates: [{ at: 1, state: 'open' as const, name: 'H3' }] },
    ];
    expect(spineWords({ stages, now: 1 })).toBe(
      'Stage 2 of 2, Preheat, 2 of 5 operations finished; H2 in doubt; next hold point H3, open',
    );
  });
});
