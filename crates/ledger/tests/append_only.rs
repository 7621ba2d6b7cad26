//! The database itself refuses to change or delete what was written, whoever asks.
#![expect(
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

mod common;

use common::{at, file, halves, new_set, place, sets};
use sqlx::{AssertSqlSafe, ConnectOptions, Connection};
use whirlwright_ledger::Ledger;

const TABLES: [&str; 9] = [
    "entries",
    "lots",
    "files",
    "parts",
    "file_rows",
    "readings",
    "decisions",
    "sets",
    "set_members",
];

#[tokio::test]
async fn law_nothing_written_is_changed_or_deleted() {
    let (_folder, path) = place();
    let ledger = Ledger::open(&path).await.unwrap();
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    let pair = vec![
        new_set("D26-H0001", "D26-H0002"),
        new_set("D26-H0003", "D26-H0004"),
    ];
    ledger.record_sets(&sets("D26", 5, pair)).await.unwrap();
    ledger
        .void_set("D26", 1, "scratched", "0.1.0", &at(6))
        .await
        .unwrap();
    let before = ledger.lot("D26").await.unwrap();
    ledger.close().await;

    // Another program's connection, without any of our settings.
    let options = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(&path)
        .foreign_keys(false);
    let mut other = options.connect().await.unwrap();
    for table in TABLES.into_iter().chain(["voids"]) {
        let column: String = sqlx::query_scalar("SELECT name FROM pragma_table_info(?) LIMIT 1")
            .bind(table)
            .fetch_one(&mut other)
            .await
            .unwrap();
        for sql in [
            format!("DELETE FROM {table}"),
            format!("UPDATE {table} SET {column} = {column}"),
            format!("UPDATE OR IGNORE {table} SET {column} = {column} + 1000"),
        ] {
            let refused = sqlx::query(AssertSqlSafe(sql.as_str()))
                .execute(&mut other)
                .await;
            let why = refused.expect_err(&sql).to_string();
            assert!(why.contains("the ledger only grows"), "{sql}: {why}");
        }
    }
    other.close().await.unwrap();
    assert_eq!(
        Ledger::open(&path).await.unwrap().lot("D26").await.unwrap(),
        before
    );
}

/// Every table of facts is in the list above, so that a new one cannot be forgotten.
#[tokio::test]
async fn law_every_table_is_guarded() {
    let (_folder, path) = place();
    Ledger::open(&path).await.unwrap().close().await;
    let mut other = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(&path)
        .connect()
        .await
        .unwrap();
    let unguarded: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM sqlite_master t WHERE type = 'table'
         AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' AND name <> '_sqlx_migrations'
         AND 2 > (SELECT count(*) FROM sqlite_master g WHERE g.type = 'trigger'
                  AND g.tbl_name = t.name AND g.sql LIKE '%RAISE(ABORT%'
                  AND (g.sql LIKE '%BEFORE UPDATE ON%' OR g.sql LIKE '%BEFORE DELETE ON%'))",
    )
    .fetch_all(&mut other)
    .await
    .unwrap();
    assert_eq!(unguarded, Vec::<String>::new());
}

#[tokio::test]
async fn law_a_part_cannot_be_put_in_two_standing_sets_behind_our_back() {
    let (_folder, path) = place();
    let ledger = Ledger::open(&path).await.unwrap();
    ledger
        .import(&file("D26", "halves.csv", &halves()))
        .await
        .unwrap();
    ledger
        .record_sets(&sets("D26", 5, vec![new_set("D26-H0001", "D26-H0002")]))
        .await
        .unwrap();
    ledger.close().await;
    let mut other = sqlx::sqlite::SqliteConnectOptions::new()
        .filename(&path)
        .connect()
        .await
        .unwrap();
    sqlx::query(
        "INSERT INTO sets (lot, number, decision, cost, differences)
         SELECT lot, 2, decision, 0.0, '{}' FROM sets",
    )
    .execute(&mut other)
    .await
    .unwrap();
    let refused = sqlx::query("INSERT INTO set_members (set_id, role, part) VALUES (2, 'left', 1)")
        .execute(&mut other)
        .await;
    assert!(
        refused
            .expect_err("taken")
            .to_string()
            .contains("sits in a set already")
    );
}
