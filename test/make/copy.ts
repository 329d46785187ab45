import { type CopyOrder, makeBackup } from '#runtime/disk/backup'

/** A copy of the house in `dataDir` as somebody makes it by a command; answers its folder. */
export async function makeCopy(dataDir: string, intoDir: string, at: number, also: Partial<CopyOrder> = {}): Promise<string> {
  return (await makeBackup({ dataDir, intoDir, at, madeFor: 'a person', ...also })).dir
}
