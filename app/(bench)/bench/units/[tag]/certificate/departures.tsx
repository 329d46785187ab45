/** What is declared as a departure from the method, as it is going to be signed: whoever signs reads it before. */
export function Departures({ departures }: { departures: readonly string[] }) {
  if (departures.length === 0)
    return <p className="small quiet">No departure from the method is declared. Notes of the bench are not published.</p>
  return (
    <div>
      <p>These departures from the method are printed on the certificate, signed, for everybody to read:</p>
      <ul>
        {departures.map((words) => (
          <li key={words}>{words}</li>
        ))}
      </ul>
    </div>
  )
}
