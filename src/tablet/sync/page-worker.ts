import { checkPage } from './check-page.ts';

/** Checks pages of arrivals beside the screens. Asked with bytes and a casting's id; answers by the number of the question. */
addEventListener('message', (event: MessageEvent<{ n: number; gz: ArrayBuffer; casting: string }>) => {
  const { n, gz, casting } = event.data;
  checkPage(gz, casting).then(
    (page) => postMessage({ n, page }),
    (error: unknown) => postMessage({ n, error: String(error) }),
  );
});
