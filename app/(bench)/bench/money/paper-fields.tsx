import { TextField } from '#app/_ui/forms/text-fields.tsx'

/** What stands on the bank's paper: its reference, and its day. */
export function PaperFields({ day = 'Day it came in', reference }: { day?: string; reference?: string }) {
  return (
    <>
      <TextField
        name="reference"
        label="Reference on the bank statement"
        optional
        mono
        {...(reference !== undefined && { defaultValue: reference })}
      />
      <TextField name="on" label={day} hint="Leave it empty for today." optional type="date" width="short" />
    </>
  )
}
