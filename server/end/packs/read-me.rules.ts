/** The text that lies on top in a pack, for a person who opens it in ten years without this program. */
export const readMe = (told: { campaign: string; madeAt: string; leftOut: readonly string[] }): string =>
  `${told.campaign || 'A house without a campaign'}, as it stood at ${told.madeAt}.

Everything here is in open formats: JSON (RFC 8259), CSV (RFC 4180), PDF, WebP, JWS (RFC 7515), SQL. No program of ours is
needed to read it.

manifest.json          version of this format, number of rows of each table, and length and SHA-256 of every other file
signature.json         signature of the house over the SHA-256 of manifest.json: JWS (RFC 7515) with Ed25519, flattened. The
                       header names the key; that it is the house's own is for you to know
tables/*.json          every table of the database: a list of rows, one on a line. Text that is JSON itself stands as it was
                       kept, letter for letter, since signatures rest on it
tables/schema.sql      what each table and column is, with comments
csv/                   the same for people: donors, gifts, parcels, batches, pieces, units, fittings, readings, certificates,
                       lots, journal, statement. Amounts in the campaign's currency, instants in UTC
public/                what the house showed to everybody: proceeds, lots, credits, programme
histories/             the bid history of each lot, signed; public/history-format.md of the program says how to check one
certificates/          each certificate as JWS in its flattened JSON form, as it was signed
records/               the record of each unit as data
papers/                certificates, invoices and the statement as PDF
photographs/           under the SHA-256 of what was taken, at three widths; sound and video of machines running too
keys/public-keys.json  the public halves of the keys that signed all of this (RFC 7517). Private halves are in no pack

Instants are milliseconds since 1970-01-01 UTC. Money is in minor units (pence, cents) in tables/, never a float. The archive's
comment is the SHA-256 of every byte before its own 64 digits.

Read back into an empty installation:  npm run unpack -- <this file>

Left out:
${told.leftOut.map((words) => `  - ${words}`).join('\n')}

A pack may hold names, email addresses and addresses for sending. Keep it where only you can read it, and destroy it when the
time for keeping contact data is over, unless it was made without them. One that was made without them still holds the email
addresses of the staff.
`
