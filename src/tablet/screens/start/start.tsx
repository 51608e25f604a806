import { Screen } from '../../app/screen.tsx';

export function Start() {
  return (
    <Screen place="setup" name="Start">
      <p>Start</p>
    </Screen>
  );
}
