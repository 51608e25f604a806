import type { Finding } from '../../../shared/logbook/state/findings.ts';
import './finding-link.css';

/** One finding as a row: what it is, how grave, and what it blocks. */
export function FindingLink({
  finding,
}: {
  finding: Pick<Finding, 'id' | 'title' | 'severity' | 'state' | 'operation' | 'blocks'>;
}) {
  const grave = finding.severity !== 'minor' && finding.state === 'open';
  return (
    <a class={`row ${grave ? 'finding-grave' : ''}`} href={`/findings/${finding.id}`}>
      <span class="grow">
        <b>{finding.title}</b>
        <span class="second small dim">
          {finding.severity}, {finding.state}, operation {finding.operation}
        </span>
      </span>
      {finding.blocks && <span class="small">blocks {finding.blocks}</span>}
    </a>
  );
}
