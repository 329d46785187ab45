export function changedFiles(base?: string): string[]
export function brokenBy(files: readonly string[]): Promise<{ tests: string[]; journeys: string[] } | null>
