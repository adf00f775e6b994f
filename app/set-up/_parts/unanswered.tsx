import { Button } from "#app/_components/controls/button.tsx";
import css from "#app/_components/controls/forms.module.css";
import type { Sent } from "#app/_components/live/send.ts";

/** Instead of what the API has not given: loading, offline, signed out, not allowed, or failed, each said plainly. */
export function Unanswered({
  answer,
  what,
  onAgain,
}: {
  readonly answer: Sent<unknown> | null;
  readonly what: string;
  readonly onAgain: () => void;
}) {
  if (answer === null) return <p role="status">Loading {what} ...</p>;
  if (answer.ok) return null;
  const title =
    answer.status === 403
      ? "You do not have permission to see this"
      : answer.why === "offline"
        ? "No connection"
        : "";
  return (
    <div className={css.unanswered} role="alert">
      {title !== "" && <h2>{title}</h2>}
      <p>{answer.says}</p>
      {answer.why === "sign-in" ? (
        <a href="/sign-in">Sign in</a>
      ) : (
        <Button onClick={onAgain}>Try again</Button>
      )}
    </div>
  );
}
