import { Waiting } from "../_components/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="logbook" title="Logbook">
      Loading the logbook ...
    </Waiting>
  );
}
