import { Screen } from '../../app/screen.tsx';

export function HoldScreen() {
  return (
    <Screen place="sequence" name="Hold point">
      <p>Hold point</p>
    </Screen>
  );
}
