/** Text as gzip. */
export const gzipped = (text: string): Promise<ArrayBuffer> =>
  through(text, new CompressionStream('gzip')).arrayBuffer();

/** Gzip as text. @throws {TypeError} when the bytes are no gzip, or end too early. */
export const gunzipped = (bytes: ArrayBuffer): Promise<string> =>
  through(bytes, new DecompressionStream('gzip')).text();

const through = (content: BlobPart, stream: CompressionStream | DecompressionStream): Response =>
  new Response(new Blob([content]).stream().pipeThrough(stream));
