import { Screen } from '../../app/screen.tsx';

export function EntryScreen() {
  return (
    <Screen place="record" name="Entry">
      <p>Entry</p>
    </Screen>
  );
}
