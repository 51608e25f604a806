import { Screen } from '../../app/screen.tsx';

export function RecordScreen() {
  return (
    <Screen place="record" name="Record">
      <p>Record</p>
    </Screen>
  );
}
