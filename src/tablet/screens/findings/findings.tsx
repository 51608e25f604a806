import { Screen } from '../../app/screen.tsx';

export function Findings() {
  return (
    <Screen place="now" name="Findings">
      <p>Findings</p>
    </Screen>
  );
}
