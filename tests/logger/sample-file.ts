import { randomOf } from '../../shared/practice/random.ts';

export interface SampleFileOptions {
  readonly channels: readonly string[];
  readonly from_ms: number;
  readonly rows: number;
  readonly step_ms: number;
  /** The channels' value at an instant, before the noise, °C. */
  readonly value_C: (at_ms: number) => number;
  /** `2026-03-14T06:05:00Z`, or a local clock of day, month and year. */
  readonly dates?: 'iso' | 'dmy';
}

const two = (n: number): string => String(n).padStart(2, '0');

/** The text of a logger's CSV file, the same for the same options. */
export function sampleFile({ channels, from_ms, rows, step_ms, value_C, dates = 'iso' }: SampleFileOptions): string {
  const { normal } = randomOf('sample file', channels.join());
  const lines = [`time;${channels.map((c) => `${c} [°C]`).join(';')}`];
  for (let i = 0; i < rows; i++) {
    const at = new Date(from_ms + i * step_ms);
    const mean = value_C(at.getTime());
    const values = channels.map((_, c) => (mean + c * 0.4 + normal() * 0.15).toFixed(2).replace('.', ','));
    const time =
      dates === 'iso'
        ? at.toISOString()
        : `${two(at.getUTCDate())}.${two(at.getUTCMonth() + 1)}.${at.getUTCFullYear()} ${two(at.getUTCHours())}:${two(at.getUTCMinutes())}`;
    lines.push(`${time};${values.join(';')}`);
  }
  return `${lines.join('\r\n')}\r\n`;
}
