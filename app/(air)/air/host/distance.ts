/** How far away the screen is read, as its address says. */
export const DISTANCES = { near: 'at the desk', room: 'across the room', hall: 'across a hall' } as const
export type Distance = keyof typeof DISTANCES

export const isDistance = (asked: string | undefined): asked is Distance => asked !== undefined && asked in DISTANCES
