/**
 * What is kept of a letter once it has gone, and shown of it to the staff at any time: everything but the key of a donor's own page, which opens it to whoever holds
 * it. A key is kept nowhere but with its donor.
 */
export const withoutKey = (body: string): string => body.replaceAll(/(\/yours#)[\w-]{20,}/g, '$1…')
