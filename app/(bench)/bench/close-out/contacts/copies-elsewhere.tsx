import type { CopiesView } from '#end/deletion/deletion.contract'

/** Copies that hold contact data too: those that the house knows of by name, and those that only people know of. */
export function CopiesElsewhere({ copies: { backups, packs } }: { copies: CopiesView }) {
  return (
    <section className="stack" aria-labelledby="copies">
      <h2 id="copies">Copies elsewhere</h2>
      <p>
        {backups.length === 0
          ? 'No backup stands beside the database.'
          : `${backups.length === 1 ? 'One backup stands' : `${backups.length} backups stand`} in the folder “backups” of the data folder, and hold everything as it was. Delete them there afterwards, then make a new one:`}
      </p>
      {backups.length > 0 && (
        <ul className="digest">
          {backups.map((name) => (
            <li key={name}>backups/{name}</li>
          ))}
        </ul>
      )}
      <p>
        Backups that you copied to other disks, packs that were downloaded and mails in mailboxes are yours to delete.{' '}
        {packs.length > 0 &&
          `${packs.length === 1 ? 'One pack' : `${packs.length} packs`} with contact data ${packs.length === 1 ? 'is' : 'are'} kept here and will be deleted with the rest.`}
      </p>
    </section>
  )
}
