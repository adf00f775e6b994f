import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { Notice } from "#app/_components/frame/notice.tsx";
import { Top } from "#app/_components/frame/top.tsx";
import { whoIsHere } from "#app/_server/page-access.ts";
import { ownPath } from "#app/_server/wanted.ts";
import { PasswordForm } from "../_parts/password-form.tsx";
import { SignOut } from "../_parts/sign-out.tsx";

export const dynamic = "force-dynamic";
export const metadata: Metadata = { title: "Change password" };

interface Address {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** One's own password; who came in with a one-time password sees no other page before. */
export default async function PasswordPage({ searchParams }: Address) {
  const [{ who }, { to }] = await Promise.all([whoIsHere(), searchParams]);
  if (!who?.session) redirect("/sign-in");
  const { person } = who.session;
  const path = ownPath(to);
  return (
    <>
      <Top here="account" />
      <Notice title={person.mustChange ? "Choose your password" : "Change password"}>
        <p>
          {person.mustChange
            ? "You signed in with a one-time password. Choose your own password here; then your pages open."
            : "Changing it ends your other sessions."}
        </p>
        <PasswordForm to={path} oneTime={person.mustChange} />
        <SignOut />
      </Notice>
    </>
  );
}
