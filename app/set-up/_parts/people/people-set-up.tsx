"use client";

import { useState } from "react";
import { Button } from "#app/_components/controls/button.tsx";
import { Dialog } from "#app/_components/controls/dialog.tsx";
import { Field } from "#app/_components/controls/field.tsx";
import { FormDialog, needed } from "#app/_components/controls/form-dialog.tsx";
import css from "#app/_components/controls/forms.module.css";
import { type Sent, send } from "#app/_components/live/send.ts";
import { useAnswer } from "#app/_components/live/use-answer.ts";
import type { GrantView, InvitedView, PeopleView, PersonView } from "#contract/people.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import { Unanswered } from "../unanswered.tsx";
import { GrantsFields, grantWords, type Places } from "./grants-fields.tsx";

const USER_NAME = /^[a-z0-9][a-z0-9._-]{1,39}$/;

function Invite({
  places,
  onClose,
  onDone,
}: {
  readonly places: Places;
  readonly onClose: () => void;
  readonly onDone: (invited: InvitedView) => void;
}) {
  const [userName, setUserName] = useState("");
  const [name, setName] = useState("");
  const [email, setEmail] = useState("");
  const [grants, setGrants] = useState<readonly GrantView[]>([{ role: "viewer", site: null, system: null }]);
  const isName = USER_NAME.test(userName);
  return (
    <FormDialog<InvitedView>
      title="Invite someone"
      path="/people"
      submit="Invite"
      fields={["userName", "name", "email", "grants"]}
      body={() =>
        !isName || name.trim().length < 2
          ? null
          : { userName, name: name.trim(), grants, ...(email.trim() === "" ? {} : { email: email.trim() }) }
      }
      onClose={onClose}
      onDone={onDone}
    >
      {(wrong, asked) => (
        <>
          <div className={css.two}>
            <Field
              label="Name"
              hint="As it will appear in records"
              wrong={needed(name, asked, 2) || wrong("name")}
            >
              {(links) => (
                <input
                  {...links}
                  value={name}
                  maxLength={80}
                  autoComplete="off"
                  onChange={(e) => setName(e.target.value)}
                />
              )}
            </Field>
            <Field
              label="User name"
              hint="To sign in with: lower-case letters and digits"
              wrong={
                (asked && !isName
                  ? "2 to 40 characters: lower-case letters, digits, dot, hyphen, underscore"
                  : "") || wrong("userName")
              }
            >
              {(links) => (
                <input
                  {...links}
                  value={userName}
                  autoCapitalize="none"
                  autoComplete="off"
                  onChange={(e) => setUserName(e.target.value.trim())}
                />
              )}
            </Field>
          </div>
          <Field label="E-mail" hint="Optional" wrong={wrong("email")}>
            {(links) => (
              <input
                {...links}
                type="email"
                value={email}
                autoComplete="off"
                onChange={(e) => setEmail(e.target.value)}
              />
            )}
          </Field>
          <GrantsFields grants={grants} places={places} onChange={setGrants} wrong={wrong("grants")} />
        </>
      )}
    </FormDialog>
  );
}

function EditGrants({
  person,
  places,
  onClose,
  onDone,
}: {
  readonly person: PersonView;
  readonly places: Places;
  readonly onClose: () => void;
  readonly onDone: () => void;
}) {
  const [grants, setGrants] = useState<readonly GrantView[]>(person.grants);
  return (
    <FormDialog<unknown>
      title={`Roles of ${person.name}`}
      path={`/people/${encodeURIComponent(person.id)}/grants`}
      submit="Save"
      fields={["grants"]}
      body={() => ({ grants })}
      onClose={onClose}
      onDone={onDone}
    >
      {(wrong) => (
        <GrantsFields grants={grants} places={places} onChange={setGrants} wrong={wrong("grants")} />
      )}
    </FormDialog>
  );
}

/** Shown this once: the server keeps only a hash. */
function OneTimePassword({
  invited,
  zone,
  onClose,
}: {
  readonly invited: InvitedView;
  readonly zone: string;
  readonly onClose: () => void;
}) {
  const [copied, setCopied] = useState("");
  const copy = () =>
    navigator.clipboard === undefined
      ? Promise.reject(new Error("no clipboard"))
      : navigator.clipboard.writeText(invited.oneTimePassword);
  return (
    <Dialog title="One-time password" onClose={onClose}>
      <p>
        {invited.person.name} signs in once as <b>{invited.person.userName}</b> with this password, then
        chooses a new one. It is shown only now and works until {clockOf(zone).full(invited.expires)}.
      </p>
      <p className={css.password}>
        <code data-one-time="">{invited.oneTimePassword}</code>
        <Button
          onClick={() =>
            copy().then(
              () => setCopied("copied"),
              () => setCopied("could not be copied: select it and copy it by hand"),
            )
          }
        >
          Copy
        </Button>
        <small role="status">{copied}</small>
      </p>
      <p className={css.buttons}>
        <Button kind="main" onClick={onClose}>
          I have written it down
        </Button>
      </p>
    </Dialog>
  );
}

/** People: who may sign in, as what and where; inviting, closing an account and opening it again, ending sessions. */
export function PeopleSetUp({ places, zone }: { readonly places: Places; readonly zone: string }) {
  const { answer, again } = useAnswer<PeopleView>("/people");
  const [isInviting, setInviting] = useState(false);
  const [editing, setEditing] = useState<PersonView | null>(null);
  const [invited, setInvited] = useState<InvitedView | null>(null);
  const [said, setSaid] = useState("");
  const [failed, setFailed] = useState<Sent<unknown> | null>(null);
  const [busy, setBusy] = useState("");
  if (!answer?.ok) return <Unanswered answer={answer} what="the people" onAgain={again} />;
  const clock = clockOf(zone);
  const act = async (person: PersonView, verb: string, says: string) => {
    setBusy(`${person.id} ${verb}`);
    const sent = await send<InvitedView>(`/people/${encodeURIComponent(person.id)}/${verb}`, {});
    setBusy("");
    setFailed(sent.ok ? null : sent);
    if (!sent.ok) return;
    if (verb === "new-password") setInvited(sent.value);
    setSaid(says);
    again();
  };
  const verb = (person: PersonView, name: string, label: string, says: string) => (
    <Button
      kind="bare"
      busy={busy === `${person.id} ${name}`}
      onClick={() => act(person, name, says)}
      aria-label={`${label}: ${person.name}`}
    >
      {label}
    </Button>
  );
  return (
    <>
      <div className={css.sectionHead}>
        <h1>People</h1>
        <Button kind="main" onClick={() => setInviting(true)}>
          Invite
        </Button>
      </div>
      <p className={css.note} role="status">
        {said}
      </p>
      {failed !== null && !failed.ok && (
        <p className={css.wrong} role="alert">
          {failed.says}
        </p>
      )}
      <table className={css.table}>
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col">Signs in as</th>
            <th scope="col">Roles</th>
            <th scope="col">Last signed in</th>
            <th scope="col">
              <span className="unseen">Actions</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {answer.value.people.map((person) => (
            <tr key={person.id} data-person={person.userName}>
              <th scope="row">
                {person.name}
                {person.disabled && <small className={css.doubtful}> account closed</small>}
              </th>
              <td data-label="signs in as">{person.userName}</td>
              <td data-label="roles">
                {person.grants.map((grant) => grantWords(grant, places)).join("; ") || "none"}
              </td>
              <td data-label="last signed in">
                {person.lastSignIn === null ? "never" : clock.dayClock(person.lastSignIn)}
                {person.sessions > 0 &&
                  `, ${person.sessions} open ${person.sessions === 1 ? "session" : "sessions"}`}
                {person.mustChangePassword && ", one-time password"}
              </td>
              <td>
                <Button kind="bare" onClick={() => setEditing(person)} aria-label={`Roles of ${person.name}`}>
                  roles
                </Button>
                {verb(person, "new-password", "new password", `${person.name} has a new one-time password.`)}
                {person.sessions > 0 &&
                  verb(person, "end-sessions", "end sessions", `${person.name} is signed out everywhere.`)}
                {person.disabled
                  ? verb(person, "enable", "reopen account", `${person.name} can sign in again.`)
                  : verb(
                      person,
                      "disable",
                      "close account",
                      `${person.name} can no longer sign in. To undo, choose “reopen account”.`,
                    )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {answer.value.people.length === 0 && <p className={css.soft}>Nobody has an account yet.</p>}
      {isInviting && (
        <Invite
          places={places}
          onClose={() => setInviting(false)}
          onDone={(next) => {
            setInviting(false);
            setInvited(next);
            again();
          }}
        />
      )}
      {editing !== null && (
        <EditGrants
          person={editing}
          places={places}
          onClose={() => setEditing(null)}
          onDone={() => {
            setSaid(`Roles of ${editing.name} saved.`);
            setEditing(null);
            again();
          }}
        />
      )}
      {invited !== null && <OneTimePassword invited={invited} zone={zone} onClose={() => setInvited(null)} />}
    </>
  );
}
