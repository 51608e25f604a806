import type { ComponentChildren } from 'preact';

/** What the marks of the chart mean. */
export function BarsLegend() {
  return (
    <ul class="bars-legend note">
      <Mark words="finished">
        <rect class="lane-was" x="1" y="4" width="34" height="12" />
      </Mark>
      <Mark words="forecast">
        <rect class="lane-ahead" x="1" y="4" width="34" height="12" />
      </Mark>
      <Mark words="critical chain: its delay is the casting's">
        <rect class="lane-ahead lane-critical" x="1" y="4" width="34" height="12" />
        <line class="lane-chain" x1="1" x2="35" y1="10" y2="10" />
      </Mark>
      <Mark words="float">
        <line class="lane-float" x1="1" x2="34" y1="10" y2="10" />
        <line class="lane-float-end" x1="34" x2="34" y1="5" y2="15" />
      </Mark>
      <Mark words="plan, revision 1">
        <line class="lane-plan" x1="1" x2="35" y1="10" y2="10" />
      </Mark>
    </ul>
  );
}

function Mark({ words, children }: { words: string; children: ComponentChildren }) {
  return (
    <li>
      <svg viewBox="0 0 36 20" width="36" height="20" aria-hidden="true">
        {children}
      </svg>
      {words}
    </li>
  );
}
