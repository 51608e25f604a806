import { beforeAll, describe, expect, it } from 'vitest';
import type { Kind } from '../../shared/logbook/kinds.ts';
import type { Kept } from '../../shared/logbook/log.ts';
import type { View } from '../../shared/logbook/state/view.ts';
import { factsOf } from '../../src/tablet/screens/record/facts-of.ts';
import { practice, viewOfLines } from '../practice/practice-world.ts';

describe('an entry in words', () => {
  let view: View;
  beforeAll(async () => {
    const { casting, lines } = await practice('entry facts');
    view = await viewOfLines(casting, lines);
  }, 120_000);

  const first = <K extends Kind>(kind: K, which: (kept: Kept<K>) => boolean = () => true): Kept =>
    [...view.log.all()].find((kept) => kept.kind === kind && which(kept as unknown as Kept<K>))!;
  const said = (kept: Kept): Record<string, string> =>
    Object.fromEntries(factsOf(view, kept).facts.map(({ name, value }) => [name, value]));

  it('says something of every entry of the practice casting, and names people, never their ids', () => {
    const people = view.standing.people().map((p) => p.id);
    for (const kept of view.log.all()) {
      const { facts, list } = factsOf(view, kept);
      expect(facts.length, kept.entry.kind).toBeGreaterThan(0);
      const words = [...facts.map((f) => f.value), ...(list?.lines ?? []).flatMap((l) => [l.text, l.note, l.value])];
      const text = words.join(' ');
      expect(text, kept.entry.kind).not.toMatch(/undefined|\[object|NaN/);
      for (const id of people) expect(text, kept.entry.kind).not.toContain(id);
    }
  });

  it('tells a reading with the figures that it kept', () => {
    const kept = first('reading', (r) => r.body.characteristic === 'tub-diameter-20');
    const { body } = kept as unknown as Kept<'reading'>;
    const facts = said(kept);
    expect(facts.typed).toBe(`${body.typed.text} ${body.typed.unit}`);
    expect(facts['part temperature']).toBe(`${body.conditions.part_temperature_C!.text} °C`);
    expect(facts['value at 20 °C']!.replace(/\u202f/g, '')).toBe(`${body.value.toFixed(2)} mm`);
    expect(facts['lower limit']!.replace(/\u202f/g, '')).toBe(`${body.limits.lower!.toFixed(2)} mm`);
    expect(facts['upper limit']!.replace(/\u202f/g, '')).toBe(`${body.limits.upper!.toFixed(2)} mm`);
    expect(Number.parseFloat(facts['standard uncertainty']!)).toBeCloseTo(body.standardUncertainty, 3);
    expect(facts['verdict when read']).toBe(body.verdict!.replace('-', ' '));
    expect(facts.observer).toBe(view.standing.person(body.observer)!.name);
    expect(facts['plan revision']).toBe('1');
    expect(facts.calculations).toContain('length-at-20 version 1');
  });

  it('tells a sheet’s answers with their item texts, and a round’s channels', () => {
    const sheet = first('sheet');
    const checks = view.plan.operations.flatMap((o) => o.checks);
    const { lines } = factsOf(view, sheet).list!;
    const { answers } = (sheet as unknown as Kept<'sheet'>).body;
    expect(lines.map((l) => l.text)).toEqual(answers.map((a) => checks.find((c) => c.id === a.item)!.text));
    const round = first('round');
    const channels = factsOf(view, round).list!.lines;
    expect(channels.map((l) => l.text)).toEqual(
      (round as unknown as Kept<'round'>).body.readings.map((r) => r.channel),
    );
  });

  it('tells a release’s evidence and role', () => {
    const kept = first('release');
    const { evidence } = (kept as unknown as Kept<'release'>).body;
    expect(said(kept).evidence).toContain(`${evidence.length} entries seen`);
    expect(said(kept).role).toMatch(/^(crew lead|process engineer|quality|customer witness)$/);
  });
});
