import { loggerFiles } from '../../../../shared/logbook/state/logger-files.ts';
import type { View } from '../../../../shared/logbook/state/view.ts';
import { readColumns } from '../../../../shared/logger/read-columns.ts';
import { Problem } from '../../app/problem.tsx';
import { Screen } from '../../app/screen.tsx';
import { openView } from '../../app/tablet.ts';
import { dayAndTime } from '../../app/time.ts';
import { Sheet } from '../../parts/sheet.tsx';
import { FileButton } from '../../shared-screens/file-button.tsx';
import { MappingForm } from './mapping-form.tsx';
import { Preview } from './preview.tsx';
import { ReportActions, ReportSheet } from './report-sheet.tsx';
import { type LoggerFileWork, useLoggerFile } from './use-logger-file.ts';

/** Logger files: what was taken in, and the way in for another. */
export function LoggerFiles() {
  const view = openView();
  const work = useLoggerFile(view);
  const { step } = work;
  return (
    <Screen place="furnace" name="Logger files" operation="Samples beside the rounds" work="heat-work">
      <div class="heat-hand">
        <Hand view={view} work={work} />
      </div>
      <div class="heat-seen">
        {step.at === 'mapping' || step.at === 'reading' ? (
          <Preview view={view} look={step.look} draft={work.draft} />
        ) : step.at === 'read' || step.at === 'keeping' ? (
          <ReportSheet view={view} report={step.report} />
        ) : (
          <Files view={view} />
        )}
      </div>
    </Screen>
  );
}

function Hand({ view, work }: { view: View; work: LoggerFileWork }) {
  const { step } = work;
  switch (step.at) {
    case 'mapping':
      return <MappingForm view={view} file={step.file} look={step.look} work={work} />;
    case 'reading':
      return <Reading file={step.file} done={step.done} of={step.of} />;
    case 'read':
    case 'keeping':
      return <ReportActions step={step} work={work} />;
    default:
      return <Choose work={work} />;
  }
}

/** A rule that fills, with figures. */
function Reading({ file, done, of }: { file: File; done: number; of: number }) {
  return (
    <Sheet graduated title="Reading" beside={file.name}>
      <div class="pad stack-small" role="status">
        <progress class="heat-progress" value={done} max={of || 1} aria-label="Reading the file" />
        <p>
          <span class="n">{(done / 1e6).toFixed(1)}</span> of <span class="n">{(of / 1e6).toFixed(1)}</span> MB read.
          The tablet stays free for recording; nothing is kept yet.
        </p>
      </div>
    </Sheet>
  );
}

function Choose({ work }: { work: LoggerFileWork }) {
  const { step, fault } = work;
  return (
    <Sheet graduated title="Take in a logger file">
      <div class="pad stack-small">
        {step.at === 'kept' && (
          <p role="status">
            <b>Saved.</b> {step.file.name} is in the log, with its samples.
          </p>
        )}
        {fault && <Problem title="This file cannot be taken in" words={fault} safe="Nothing of it was kept." />}
        <p>
          A CSV file as the logger writes it: a column with times, a column for each channel. You see how it is read,
          and every row that is not taken, before anything is kept.
        </p>
        <FileButton
          label={step.at === 'looking' ? 'Looking at it' : 'Choose a file'}
          main
          busy={step.at === 'looking'}
          onFile={(file) => void work.choose(file)}
        />
        <p class="small dim">Up to 100 MB: a month at a minute on 60 channels has about 20 MB.</p>
      </div>
    </Sheet>
  );
}

function Files({ view }: { view: View }) {
  const files = loggerFiles(view);
  const { timeZone, dayOne } = view.genesis;
  return (
    <Sheet title="Taken in">
      {files.length === 0 ? (
        <div class="empty">
          <p>No logger file was taken in yet. Each stands here with the time that it covers.</p>
        </div>
      ) : (
        <ul class="rows">
          {files.map(({ hash, body }) => (
            <li key={hash}>
              <a class="row" href={`/record/${hash}`}>
                <span class="grow">
                  <b>{body.file.name}</b>
                  <span class="second small dim">
                    {dayAndTime(body.from, dayOne, timeZone)} to {dayAndTime(body.to, dayOne, timeZone)},{' '}
                    <span class="n">{readColumns(body.mapping).length}</span> channels
                  </span>
                </span>
                <span class="small">
                  <span class="n">{body.taken}</span> of <span class="n">{body.rows}</span> rows
                </span>
              </a>
            </li>
          ))}
        </ul>
      )}
    </Sheet>
  );
}
