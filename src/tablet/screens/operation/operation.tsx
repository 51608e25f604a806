import { Screen } from '../../app/screen.tsx';

export function OperationScreen() {
  return (
    <Screen place="sequence" name="Operation">
      <p>Operation</p>
    </Screen>
  );
}
