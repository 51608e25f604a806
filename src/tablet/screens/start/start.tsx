import { useLocation } from 'preact-iso';
import { store } from '../../app/tablet.ts';
import { CastingPage } from './casting-page.tsx';
import { DesignPage } from './design-page.tsx';
import { JoinPage } from './join-page.tsx';
import { MadePage } from './made-page.tsx';
import { useStartDraft } from './start-draft.ts';
import { TwoWays } from './two-ways.tsx';
import './start.css';

/** First run, and another casting beside the open one: the ways in, the design, the casting, and its fingerprint. */
export function Start() {
  const { step } = useLocation().query;
  const draft = useStartDraft();
  if (step === 'made' && store.value) return <MadePage />;
  if (step === 'join') return <JoinPage />;
  if (!draft.ready) return null;
  if (step === 'design') return <DesignPage draft={draft} />;
  if (step === 'casting') return <CastingPage draft={draft} />;
  return <TwoWays />;
}
