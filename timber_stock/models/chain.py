"""The whole tree of pieces that a log or a board belongs to, in one query, however deep."""


def chain_cte(seed: str) -> str:
    """Climb from where `seed` says to the start, then come down to all that was sawn from it.

    `seed` is a SELECT of two columns, a board's id and a log's id (either may be NULL), of one
    row or many. What follows may read from `up` (only the way to the start: board_id,
    source_board_id, log_id) or from `chain` (everything: board_id, log_id, parent_id, depth;
    a log's own row has log_id, depth 0 and no board_id; every other row has no log_id).
    Plain SQL:1999, the same on SQLite and PostgreSQL, which needs every NULL to have a type.
    UNION, where ways may meet: two boards out of one log climb to it once.
    """
    return f"""
WITH RECURSIVE
seed(board_id, log_id) AS ({seed}),
up(board_id, source_board_id, log_id) AS (
    SELECT b.id, s.source_board_id, b.log_id
    FROM seed
    JOIN timber_stock_board b ON b.id = seed.board_id
    LEFT JOIN timber_stock_sawing s ON s.id = b.sawing_id
    UNION
    SELECT b.id, s.source_board_id, b.log_id
    FROM up
    JOIN timber_stock_board b ON b.id = up.source_board_id
    LEFT JOIN timber_stock_sawing s ON s.id = b.sawing_id
),
root(board_id, log_id) AS (
    SELECT CAST(NULL AS bigint), l.id FROM timber_stock_log l
    WHERE l.id IN (SELECT log_id FROM seed) OR l.id IN (SELECT log_id FROM up)
    UNION
    SELECT board_id, CAST(NULL AS bigint) FROM up
    WHERE source_board_id IS NULL AND log_id IS NULL
),
chain(board_id, log_id, parent_id, depth) AS (
    SELECT board_id, log_id, CAST(NULL AS bigint), CASE WHEN log_id IS NULL THEN 1 ELSE 0 END
    FROM root
    UNION ALL
    SELECT b.id, CAST(NULL AS bigint), chain.board_id, chain.depth + 1
    FROM chain
    JOIN timber_stock_sawing s
        ON s.source_board_id = chain.board_id OR s.source_log_id = chain.log_id
    JOIN timber_stock_board b ON b.sawing_id = s.id
)
"""
