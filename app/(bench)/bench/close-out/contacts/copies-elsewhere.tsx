import type { CopiesView } from '#end/deletion/deletion.contract'

/** Copies that hold contact data too: those that the house knows of by name, and those that only people know of. */
export function CopiesElsewhere({ copies: { backups, packs } }: { copies: CopiesView }) {
  return (
    <section className="stack" aria-labelledby="copies">
      <h2 id="copies">Copies elsewhere</h2>
      <p>
        {backups.length === 0
          ? 'There is no backup beside the database.'
          : `${backups.length === 1 ? 'One backup is' : `${backups.length} backups are`} in the folder “backups” of the data folder, and hold everything as it was. Delete them there afterwards, then make a new one:`}
      </p>
      {backups.length > 0 && (
        <ul className="digest">
          {backups.map((name) => (
            <li key={name}>backups/{name}</li>
          ))}
        </ul>
      )}
      <p>
        Backups you copied to other disks, downloaded packs and emails in mailboxes are for you to delete.{' '}
        {packs.length > 0 &&
          `${packs.length === 1 ? 'One pack' : `${packs.length} packs`} with contact data ${packs.length === 1 ? 'is' : 'are'} kept here and will be deleted with the rest.`}
      </p>
    </section>
  )
}
