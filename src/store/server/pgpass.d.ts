// What of pgpass is used here: it comes without types.
declare module 'pgpass' {
  type Asked = { host: string; port: number; database: string; user: string };
  export default function pgpass(asked: Asked, found: (password: string | undefined) => void): void;
}
