import { Screen } from '../../app/screen.tsx';

export function Survey() {
  return (
    <Screen place="survey" name="Survey">
      <p>Survey</p>
    </Screen>
  );
}
