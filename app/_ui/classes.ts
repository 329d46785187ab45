/** Joins class names, leaving out what is missing or false. */
export const classes = (...names: (string | false | null | undefined)[]): string => names.filter(Boolean).join(' ')
