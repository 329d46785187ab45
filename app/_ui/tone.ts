/** What a colour says. It never says it alone: each tone has a shape of its own beside a word. */
export type Tone = 'plain' | 'copper' | 'ok' | 'doubt' | 'bad'
