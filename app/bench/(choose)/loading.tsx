import { Waiting } from "#app/_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="bench" title="Bench">
      Reading which systems there are ...
    </Waiting>
  );
}
