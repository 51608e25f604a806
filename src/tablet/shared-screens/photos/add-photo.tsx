import { useState } from 'preact/hooks';
import type { Body, Photo } from '../../../../shared/logbook/kinds.ts';
import { recordPhotos } from '../../acts/photos.ts';
import { type Draft, useDraft } from '../../app/use-draft.ts';
import { wasKept } from '../../app/was-kept.ts';
import { someone } from '../../app/who.ts';
import { Overlay } from '../../parts/overlay.tsx';
import { PhotoField } from './photo-field.tsx';
import './photos.css';

/** What photos are taken of. */
export type PhotoOf = Omit<Body<'photo'>, 'photos' | 'words'>;

/** Several things that one button is for, of which one is chosen. */
export interface PhotoPlace {
  readonly label: string;
  readonly of: PhotoOf;
}

interface PhotoDraft {
  readonly photos: readonly Photo[];
  readonly words: string;
  readonly place: number;
}

const nothing: PhotoDraft = { photos: [], words: '', place: 0 };

interface Props {
  /** Names the draft: what was taken and not saved is found here again. */
  readonly id: string;
  readonly title: string;
  readonly places: readonly [PhotoPlace, ...PhotoPlace[]];
  /** The words on the button. */
  readonly label?: string;
}

/** The button that takes photos of something, and the form that it opens. */
export function AddPhoto({ id, title, places, label = 'Add photo' }: Props) {
  const draft = useDraft<PhotoDraft>(`photo/${id}`, nothing);
  const [open, setOpen] = useState(false);
  const { photos } = draft.value;
  return (
    <>
      <button
        type="button"
        class={`button ${photos.length > 0 ? 'photo-unsaved' : ''}`}
        aria-label={`${label}: ${title}`}
        onClick={() => setOpen(true)}
      >
        {photos.length === 0 ? label : `${counted(photos.length)} not saved yet`}
      </button>
      {open && <PhotoForm title={title} places={places} draft={draft} onClose={() => setOpen(false)} />}
    </>
  );
}

const counted = (count: number): string => (count === 1 ? '1 photo' : `${count} photos`);

interface FormProps extends Pick<Props, 'title' | 'places'> {
  readonly draft: Draft<PhotoDraft>;
  readonly onClose: () => void;
}

/** Photos and a few words on them. Closing keeps both. */
function PhotoForm({ title, places, draft, onClose }: FormProps) {
  const [ask, setAsk] = useState<string | null>(null);
  const { photos, words, place } = draft.value;
  const { of } = places[place] ?? places[0];
  // That there is nothing to take a photo of is an answer to what the plan wants; of nothing else it says anything.
  const none = photos.length === 0 && of.wanted !== undefined;
  const save = async () => {
    const said = draft.latest().words.trim();
    if (photos.length === 0 && !none) return setAsk('Take a photo first.');
    if (none && said === '') return setAsk('Take a photo, or say why there is nothing to take one of.');
    if (!(await someone())) return;
    const body = { photos: [...photos], ...of, ...(said ? { words: said } : {}) };
    if (!(await wasKept(recordPhotos(body)))) return;
    void draft.clear();
    onClose();
  };
  return (
    <Overlay title={title} onClose={onClose}>
      <PhotoField photos={photos} draft={draft} main />
      {places.length > 1 && (
        <label class="labelled">
          <span>What they show</span>
          <select
            class="input"
            value={String(place)}
            onChange={(e) => draft.change({ place: Number(e.currentTarget.value) })}
          >
            {places.map((p, i) => (
              <option key={p.label} value={String(i)}>
                {p.label}
              </option>
            ))}
          </select>
        </label>
      )}
      <label class="labelled">
        <span>{none ? 'Words, or why there is nothing to take a photo of' : 'Words (optional)'}</span>
        <textarea
          class="input"
          rows={2}
          maxLength={2000}
          value={words}
          onInput={(e) => draft.change({ words: e.currentTarget.value })}
        />
      </label>
      <p class="small dim">In the picture: a scale, the address of the place, the direction of view.</p>
      <div class="form-end">
        {ask && (
          <p class="photo-ask" role="alert">
            {ask}
          </p>
        )}
        <button
          type="button"
          class={`button ${photos.length > 0 ? 'main' : 'missing'} wide`}
          onClick={() => void save()}
        >
          {photos.length > 0 ? `Save ${counted(photos.length)}` : none ? 'There is none to take' : 'Save'}
        </button>
      </div>
    </Overlay>
  );
}
