import { SelectField } from '#app/_ui/forms/text-fields.tsx'

export interface Goals {
  units: { id: string; tag: string }[]
  designs: { id: string; name: string }[]
}

interface OnlyForProps {
  name?: string
  goals: Goals
  value?: string
  defaultValue?: string
  onChange?: (value: string) => void
}

/** "Only for the third receiver": what a giver said that it is for. Fitting, planning and the credits obey it. */
export function OnlyFor({ name = 'onlyFor', goals, value, defaultValue, onChange }: OnlyForProps) {
  return (
    <SelectField
      name={name}
      label="What is it for?"
      hint="Only if the donor said so."
      optional
      value={value}
      defaultValue={defaultValue}
      onChange={onChange && ((event) => onChange(event.currentTarget.value))}
      options={[
        { value: '', label: 'Any machine' },
        ...goals.designs.map(({ id, name: design }) => ({ value: `design:${id}`, label: `Only for ${design}` })),
        ...goals.units.map(({ id, tag }) => ({ value: `unit:${id}`, label: `Only for ${tag}` })),
      ]}
    />
  )
}
