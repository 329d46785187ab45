interface Kept {
  onlyForUnitId: string | null
  onlyForDesignId: string | null
}

/** What a gift is kept for, as the field for it writes it. */
export const onlyForValue = ({ onlyForUnitId, onlyForDesignId }: Kept): string =>
  onlyForUnitId !== null ? `unit:${onlyForUnitId}` : onlyForDesignId !== null ? `design:${onlyForDesignId}` : ''

export function onlyForWords(goals: { units: { id: string; tag: string }[]; designs: { id: string; name: string }[] }, kept: Kept): string {
  const unit = goals.units.find(({ id }) => id === kept.onlyForUnitId)
  const design = goals.designs.find(({ id }) => id === kept.onlyForDesignId)
  return `only for ${unit?.tag ?? design?.name ?? 'what the donor said'}`
}
