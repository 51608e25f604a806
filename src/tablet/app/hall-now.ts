import { type Hall, hallOf } from '../../../shared/logbook/state/hall.ts';
import { nowShard } from './now-shard.ts';
import { view } from './tablet.ts';

/** The hall's numbers: from the log, or as they were kept while a long log is being read. */
export const hallNow = (): Hall | null => (view.value ? hallOf(view.value) : (nowShard.value?.hall ?? null));
