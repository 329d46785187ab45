import { eq } from 'drizzle-orm'
import { letter } from '#db/schema/index'
import { openCode } from '#people/sign-in/sealed-code'
import type { Stage } from '#test/stage'

/** The code of the newest letter to an address, opened as the postman opens it on the way out. */
export function codeFor({ db, house }: Stage, email: string): string {
  const sealed = db
    .select()
    .from(letter)
    .where(eq(letter.recipient, email))
    .all()
    .flatMap(({ id, sealedCode }) => (sealedCode === null ? [] : [{ id, sealedCode }]))
    .at(-1)
  if (!sealed) throw new Error(`no code waits for ${email}`)
  return openCode(house.keys, sealed.id, sealed.sealedCode)
}

/** Another code of six digits. */
export const wrongInsteadOf = (code: string): string => (code === '000000' ? '000001' : '000000')
