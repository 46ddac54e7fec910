"""The whole tree of pieces that a log or a board belongs to, in one query, however deep."""

# Climb from any piece to the one nothing here was sawn from, then come down to everything sawn
# from the same start. Plain SQL:1999, the same on SQLite and PostgreSQL. Takes the board's id,
# or the log's id, or NULL for either.
CHAIN_CTE = """
WITH RECURSIVE
up(board_id, source_board_id, log_id) AS (
    SELECT b.id, s.source_board_id, b.log_id
    FROM timber_stock_board b LEFT JOIN timber_stock_sawing s ON s.id = b.sawing_id
    WHERE b.id = %(board_id)s
    UNION ALL
    SELECT b.id, s.source_board_id, b.log_id
    FROM up
    JOIN timber_stock_board b ON b.id = up.source_board_id
    LEFT JOIN timber_stock_sawing s ON s.id = b.sawing_id
),
root(board_id, log_id) AS (
    SELECT NULL, id FROM timber_stock_log
    WHERE id = %(log_id)s OR id IN (SELECT log_id FROM up)
    UNION ALL
    SELECT board_id, NULL FROM up WHERE source_board_id IS NULL AND log_id IS NULL
),
chain(board_id, parent_id, depth) AS (
    SELECT b.id, NULL, 1
    FROM root JOIN timber_stock_board b ON b.id = root.board_id
    UNION ALL
    SELECT b.id, NULL, 1
    FROM root
    JOIN timber_stock_sawing s ON s.source_log_id = root.log_id
    JOIN timber_stock_board b ON b.sawing_id = s.id
    UNION ALL
    SELECT b.id, chain.board_id, chain.depth + 1
    FROM chain
    JOIN timber_stock_sawing s ON s.source_board_id = chain.board_id
    JOIN timber_stock_board b ON b.sawing_id = s.id
)
"""
