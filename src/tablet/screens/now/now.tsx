import { Screen } from '../../app/screen.tsx';

export function Now() {
  return (
    <Screen place="now" name="Now">
      <p>Now</p>
    </Screen>
  );
}
