import { type AnnealNow, annealNow } from '../../../../shared/furnace/anneal.ts';
import { allSamplesOf } from '../../../../shared/logbook/state/samples.ts';
import { Figure } from '../../parts/figure.tsx';
import { formatFigure } from '../../parts/format-figure.ts';
import { LimitStrip } from '../../parts/limit-strip.tsx';
import { Sheet } from '../../parts/sheet.tsx';
import type { SampledProps } from './use-logged.ts';
import { type WorkedFigure, WorkedFigures } from './worked-figures.tsx';

/** ISO 14253-1: so many standard uncertainties guard a limit on one side. */
const GUARD_FACTOR = 1.65;

/** The anneal in figures: rate against its limit, the difference that governs, and the stress both ways. */
export function AnnealSheet({ view, heat, now_ms, logged }: SampledProps) {
  const samples = allSamplesOf(view, heat, logged);
  const now = heat.ended_ms === null ? annealNow(view, heat, samples, now_ms, logged) : null;
  if (!now) return null;
  const { cooling } = now;
  return (
    <Sheet
      class="anneal-sheet"
      title="Glass"
      beside={`${now.glass_C.toFixed(1)} °C`}
      aside={`mean of ${now.rate.channels.length} channels`}
    >
      {cooling && (
        <div class="pad anneal-strip">
          <LimitStrip
            size="M"
            label="Cooling over 24 h"
            value={cooling.value}
            lower={null}
            upper={cooling.limit}
            nominal={null}
            guard={GUARD_FACTOR * cooling.standardUncertainty}
            verdict={cooling.verdict}
            unit="K/h"
            decimals={3}
          />
        </div>
      )}
      <WorkedFigures figures={[coolingRow(now), ...throughRow(now), ...stressRows(now)]} />
      <p class="pad small dim">
        a = {now.halfThickness_mm} mm: {now.thicknessWords}.
      </p>
    </Sheet>
  );
}

function coolingRow({ cooling, rate, limitWords }: AnnealNow): WorkedFigure {
  return {
    name: 'Cooling against its limit',
    beside: cooling ? `permitted ${cooling.limit} K/h` : 'no limit here',
    figure: <Figure value={-rate.rate_K_h} decimals={3} unit="K/h" />,
    verdict: cooling?.verdict ?? null,
    behind: {
      words: [limitWords, `Fitted over ${rate.span_h.toFixed(1)} h to the mean of ${rate.channels.join(', ')}.`],
      worked: [
        rate.worked,
        ...(cooling
          ? [
              {
                calculation: 'conformity',
                input: {
                  value: cooling.value,
                  standard_uncertainty: cooling.standardUncertainty,
                  upper_limit: cooling.limit,
                },
              },
            ]
          : []),
      ],
    },
  };
}

/** The section in which the middle is furthest from its faces governs. */
function throughRow({ through, closed, slab, thicknessWords, halfThickness_mm }: AnnealNow): WorkedFigure[] {
  const worst = [...through].sort((a, b) => b.difference_K - a.difference_K)[0];
  const K = (value: number) => `${formatFigure(value, { decimals: 2 })} K`;
  if (!worst) return [];
  return [
    {
      name: `Through the glass at ${worst.channel}`,
      beside: `limit ${worst.limit_K ?? '–'} K; ${K(closed.centre_minus_surface_K)} by the rate${slab ? `, ${K(slab.centre_minus_surface_K)} by the record` : ''}`,
      figure: <Figure value={worst.difference_K} decimals={2} signed unit="K" />,
      verdict: worst.verdict,
      behind: {
        words: [
          'Middle of the glass less the mean of face and back over and under it. The greatest governs.',
          ...through.map(
            (t) => `${t.channel}: ${t.formula} = ${formatFigure(t.difference_K, { decimals: 2, signed: true })} K`,
          ),
          `Beside it, what a slab of half-thickness ${halfThickness_mm} mm has at this rate and by this record: ${thicknessWords}.`,
        ],
        ...(worst.limit_K === null
          ? {}
          : {
              worked: [
                {
                  calculation: 'conformity',
                  input: { value: worst.difference_K, standard_uncertainty: 0.3, upper_limit: worst.limit_K },
                },
              ],
            }),
      },
    },
  ];
}

/** A stress in words, with its sign. */
const said = (MPa: number): string => formatFigure(MPa, { decimals: 3, signed: true });

function stressRows({ closed, closedBy, slab, slabBy, slabLines, permitted, rate }: AnnealNow): WorkedFigure[] {
  const MPa = (value: number) => <Figure value={value} decimals={3} signed unit="MPa" />;
  const both = {
    words: [
      'Tension is positive. The closed formula takes the rate of the last day as if the whole range had been passed at it; the slab is driven by the logged faces from the soak on and relaxes as it goes. Where they differ the rate was not steady, or the glass has not set yet.',
      `Closed formula: centre ${said(closed.permanent_centre_stress_MPa)}, surface ${said(closed.permanent_surface_stress_MPa)} MPa stay; passing at the surface ${said(closed.temporary_surface_stress_MPa)} MPa.`,
      ...(slab
        ? [
            `By the record: centre ${said(slab.permanent_centre_stress_MPa)}, surface ${said(slab.permanent_surface_stress_MPa)} MPa would stay; passing at the surface ${said(slab.temporary_surface_stress_MPa)} MPa. ${slab.relaxation_time_h === null ? 'The glass has set.' : `Relaxation time now ${slab.relaxation_time_h.toPrecision(2)} h.`}`,
          ]
        : []),
      'Doubts: the expansion in and above the setting range is two to three times the cold one, and stress with it; one relaxation time stands for a spectrum; the viscosity below the annealing point is extrapolated; face and back are taken as one.',
    ],
    lines: slabLines,
    worked: [closedBy, ...(slabBy ? [slabBy] : [])],
  };
  return [
    {
      name: 'Stays at the centre, by the rate',
      beside: `permitted ${permitted.permanent_MPa} MPa; ${formatFigure(Math.max(0, -rate.rate_K_h), { decimals: 3 })} K/h through the range`,
      figure: MPa(closed.permanent_centre_stress_MPa),
      behind: both,
    },
    ...(slab
      ? [
          {
            name: 'Stays at the centre, by the record',
            beside:
              slab.relaxation_time_h !== null && slab.relaxation_time_h < 24
                ? `not set yet: relaxes within ${slab.relaxation_time_h.toPrecision(2)} h`
                : `permitted ${permitted.permanent_MPa} MPa`,
            figure: MPa(slab.permanent_centre_stress_MPa),
            behind: both,
          },
        ]
      : []),
    {
      name: 'Passes at the surface',
      beside: `by the rate; ${slab ? `${said(slab.temporary_surface_stress_MPa)} MPa by the record; ` : ''}permitted ${permitted.temporary_MPa} MPa`,
      figure: MPa(closed.temporary_surface_stress_MPa),
      behind: both,
    },
  ];
}
