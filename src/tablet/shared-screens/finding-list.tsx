import type { ComponentChildren } from 'preact';
import { FindingLink, type FindingLinkProps } from './finding-link.tsx';

interface Props {
  readonly findings: readonly FindingLinkProps['finding'][];
  /** Rows after the last finding. */
  readonly children?: ComponentChildren;
}

/** Findings as rows, in the order given. */
export const FindingList = ({ findings, children }: Props) => (
  <ul class="rows">
    {findings.map((finding) => (
      <li key={finding.id}>
        <FindingLink finding={finding} />
      </li>
    ))}
    {children}
  </ul>
);
