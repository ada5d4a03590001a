export function renderYear(props: { season: { name: string }; plan: unknown; state: string }) {
  return (
    <div>
      <h1>{props.season.name}</h1>
      <p>{props.state}</p>
      <a href="#x">x</a>
    </div>
  );
}
