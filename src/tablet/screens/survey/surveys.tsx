import { Screen } from '../../app/screen.tsx';

export function Surveys() {
  return (
    <Screen place="survey" name="Survey">
      <p>Survey</p>
    </Screen>
  );
}
