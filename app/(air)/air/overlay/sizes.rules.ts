/**
 * Type on the picture, as per cent of its height. A phone held upright shows a 16:9 picture some 38 mm high: at 35 cm a
 * capital of 16 minutes of arc, the least that ISO 9241-303 allows, is 4.2 % of it. What it is, what it costs and how
 * long is left must reach that. The rest must be read on a phone that is turned, whose picture is some 69 mm high: 2.4 %.
 */
export const TYPE_SHARES = { figure: 9.4, main: 6.6, text: 4.4 } as const
export type TypeSize = keyof typeof TYPE_SHARES

export const LEAST_CAPITAL: Record<TypeSize, number> = { figure: 4.2, main: 4.2, text: 2.4 }

/** Left free on every side, as per cent: what a screen or a player may cut away. */
export const SAFE_EDGE = 5

/** The same as custom properties for the sheet of styles, so that a test reads what the picture is made of. */
export const sizeProperties = (): Record<`--${string}`, string> => ({
  '--figure': `${TYPE_SHARES.figure}cqh`,
  '--main': `${TYPE_SHARES.main}cqh`,
  '--words': `${TYPE_SHARES.text}cqh`,
  '--safe': `${SAFE_EDGE}cqh ${SAFE_EDGE}cqw`,
})
