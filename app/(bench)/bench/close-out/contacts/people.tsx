export interface PersonGoing {
  id: string
  name: string
  mail: string
  /** What of them stays; empty for nothing that needs saying. */
  keeps: string
}

/** Whose contact data it is. The list is closed at first, since it may be long. */
export function People({ title, people }: { title: string; people: readonly PersonGoing[] }) {
  if (people.length === 0) return null
  return (
    <details>
      <summary>
        {title}: {people.length}
      </summary>
      <div className="scroll">
        <table className="cards">
          <caption>{title} whose addresses would go</caption>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Email address</th>
              <th scope="col">Stays</th>
            </tr>
          </thead>
          <tbody>
            {people.map(({ id, name, mail, keeps }) => (
              <tr key={id}>
                <th scope="row">{name}</th>
                <td data-label="Email address" className="digest">
                  {mail}
                </td>
                <td data-label="Stays">{keeps}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  )
}
