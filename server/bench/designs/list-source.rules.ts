/** What was given for a list: a file's bytes, or text that was pasted. */
export const sourceOf = ({ base64, text }: { base64?: string | undefined; text?: string | undefined }): Uint8Array | string =>
  base64 === undefined ? (text ?? '') : new Uint8Array(Buffer.from(base64, 'base64'))
