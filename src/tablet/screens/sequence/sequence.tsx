import { Screen } from '../../app/screen.tsx';

export function Sequence() {
  return (
    <Screen place="sequence" name="Sequence">
      <p>Sequence</p>
    </Screen>
  );
}
