/** Text as gzip, and back. */
export const gzipped = (text: string): Promise<ArrayBuffer> =>
  new Response(new Blob([text]).stream().pipeThrough(new CompressionStream('gzip'))).arrayBuffer();

/** @throws {TypeError} when the bytes are no gzip, or end too early. */
export const gunzipped = (bytes: ReadableStream<Uint8Array<ArrayBuffer>>): Promise<string> =>
  new Response(bytes.pipeThrough(new DecompressionStream('gzip'))).text();
