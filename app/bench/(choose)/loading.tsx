import { Waiting } from "#app/_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="bench" title="Bench">
      Loading the systems ...
    </Waiting>
  );
}
