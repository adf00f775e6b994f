import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="logbook" title="Logbook">
      Loading the logbook ...
    </Waiting>
  );
}
