import { Screen } from '../../app/screen.tsx';

export function FindingScreen() {
  return (
    <Screen place="now" name="Finding">
      <p>Finding</p>
    </Screen>
  );
}
