import { Screen } from '../../app/screen.tsx';

export function Setup() {
  return (
    <Screen place="setup" name="Setup">
      <p>Setup</p>
    </Screen>
  );
}
