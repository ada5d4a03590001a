export function renderPrint(props: { season: { name: string }; plan: unknown; state: string }) {
  return <h1>{props.season.name}</h1>;
}
