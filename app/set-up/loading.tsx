import { Waiting } from "../_components/frame/waiting.tsx";

export default function Loading() {
  return (
    <Waiting here="set-up" title="Set-up">
      Loading the set-up ...
    </Waiting>
  );
}
