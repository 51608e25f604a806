import type { Photo } from '../../../shared/logbook/kinds.ts';
import { lookAtBlobs } from '../app/photos-here.ts';
import { openStore } from '../app/tablet.ts';
import { isQuotaError } from '../storage/casting-store.ts';
import { blobName, PhotoStore } from '../storage/photo-store.ts';

/**
 * The longest side of a photo as it is kept, px. Half a metre of glass across the picture is then 0.25 mm a pixel: a
 * crack beside its scale, a dial and a chalk mark can be read. At this size and quality a photo takes 0.3 to 0.8 MB, so
 * that the some thousand photos of a casting stay within what a tablet holds and a hall's network carries.
 */
export const PHOTO_SIDE = 2048;
/** Of JPEG, 0 to 1: below, fine cracks begin to drown in the blocks of the coding; above, it only grows. */
const PHOTO_QUALITY = 0.82;

/** The small photo that stands in lists and travels first: 160 px on a screen of double density, some 10 kB. */
export const SMALL_SIDE = 320;
const SMALL_QUALITY = 0.7;

/** A larger file is no photo of a tablet; to open it could end the app. */
const MOST_FILE_BYTES = 100_000_000;

const JPEG = 'image/jpeg';

export type PhotoFaultCode = 'too-large' | 'not-a-photo' | 'storage-full' | 'not-stored';

/** Why a photo was not kept. */
export class PhotoFault extends Error {
  constructor(readonly code: PhotoFaultCode) {
    super(code);
  }
}

/**
 * Shrinks a picture, upright as it was taken, and keeps it and a small one on this tablet. What the camera wrote into
 * the file besides the picture (place, time, maker: EXIF) does not come along.
 * @returns how an entry names it, after it is stored
 * @throws {PhotoFault}
 */
export async function takePhoto(file: Blob): Promise<Photo> {
  if (file.size > MOST_FILE_BYTES) throw new PhotoFault('too-large');
  const whole = await shrunk(file);
  const large = await jpegOf(whole, PHOTO_QUALITY);
  const smallCanvas = drawn(whole, SMALL_SIDE);
  const small = await jpegOf(smallCanvas, SMALL_QUALITY);
  try {
    await new PhotoStore(openStore().db).keep([large, small]);
  } catch (error) {
    throw new PhotoFault(isQuotaError(error) ? 'storage-full' : 'not-stored');
  }
  await lookAtBlobs();
  return { ...pictureOf(large, whole), type: JPEG, small: pictureOf(small, smallCanvas) };
}

const pictureOf = (bytes: Uint8Array<ArrayBuffer>, { width, height }: HTMLCanvasElement) => ({
  hash: blobName(bytes),
  bytes: bytes.length,
  width,
  height,
});

async function shrunk(file: Blob): Promise<HTMLCanvasElement> {
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file, { imageOrientation: 'from-image' });
  } catch {
    throw new PhotoFault('not-a-photo');
  }
  try {
    return drawn(bitmap, PHOTO_SIDE);
  } finally {
    bitmap.close();
  }
}

/** Drawn so that its longest side is at most so many pixels; never larger than it is. */
function drawn(source: ImageBitmap | HTMLCanvasElement, longest: number): HTMLCanvasElement {
  const scale = Math.min(1, longest / Math.max(source.width, source.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(source.width * scale));
  canvas.height = Math.max(1, Math.round(source.height * scale));
  const pen = canvas.getContext('2d')!;
  // JPEG knows no holes: what is see-through would turn black.
  pen.fillStyle = 'white';
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.imageSmoothingQuality = 'high';
  pen.drawImage(source, 0, 0, canvas.width, canvas.height);
  return canvas;
}

async function jpegOf(canvas: HTMLCanvasElement, quality: number): Promise<Uint8Array<ArrayBuffer>> {
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, JPEG, quality));
  if (!blob) throw new PhotoFault('not-a-photo');
  return new Uint8Array(await blob.arrayBuffer());
}
