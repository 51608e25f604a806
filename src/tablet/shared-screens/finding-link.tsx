import type { Finding } from '../../../shared/logbook/state/findings.ts';
import './finding-link.css';

export interface FindingLinkProps {
  readonly finding: Pick<Finding, 'id' | 'title' | 'severity' | 'state' | 'operation' | 'blocks'>;
  /** Who looks after it; where it is given, the row also says when the finding blocks nothing. */
  readonly owner?: string;
}

/** One finding as a row: what it is, how grave, whose it is, and what it blocks. */
export function FindingLink({ finding, owner }: FindingLinkProps) {
  const grave = finding.severity !== 'minor' && finding.state === 'open';
  const blocks = finding.blocks ? `blocks ${finding.blocks}` : owner && 'blocks nothing';
  return (
    <a class={`row ${grave ? 'finding-grave' : ''}`} href={`/findings/${finding.id}`}>
      <span class="grow">
        <b>{finding.title}</b>
        <span class="second small dim">
          {finding.severity}, {finding.state}, operation {finding.operation}
          {owner && `, owner ${owner}`}
        </span>
      </span>
      {blocks && <span class="small">{blocks}</span>}
    </a>
  );
}
