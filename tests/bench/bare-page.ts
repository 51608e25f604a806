import Dexie from 'dexie';
import { h, render } from 'preact';

/** What a start costs at the least: the same libraries, one table, one row, one field. */
const db = new Dexie('bare');
db.version(1).stores({ rows: 'id' });
const table = db.table<{ id: string; text: string }>('rows');
await table.put({ id: 'one', text: 'next operation' });
const row = await table.get('one');
render(h('main', null, h('h1', null, row?.text ?? ''), h('input', { 'aria-label': 'digit' })), document.body);
document.querySelector('input')!.focus();
