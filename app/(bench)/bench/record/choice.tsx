import { SelectField } from '#app/_ui/forms/text-fields.tsx'
import { CHANGE_KINDS, type ListChangesIn } from '#people/changes/changes.contract'
import styles from './choice.module.css'
import { KIND_WORDS } from './kind-words.rules'

type Chosen = Pick<ListChangesIn, 'kind' | 'by'>

/** Which changes are shown. A plain form, so that it works before any script has come. */
export function Choice({ people, kind, by }: { people: readonly { id: string; name: string }[] } & Chosen) {
  const kinds = [{ value: '', label: 'Everything' }, ...CHANGE_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))]
  const all = [{ value: '', label: 'Everybody' }, ...people.map(({ id, name }) => ({ value: id, label: name }))]
  return (
    <form action="/bench/record" className={styles.choice}>
      <SelectField name="kind" label="What" options={kinds} defaultValue={kind ?? ''} />
      <SelectField name="by" label="Who" options={all} defaultValue={by ?? ''} />
      <button type="submit" className="button-line">
        Show
      </button>
    </form>
  )
}
