-- One row per length class of a species in a haul whose catch can be compared: the fish measured,
-- and the fish that they stand for. A share that was not written makes these unknown, unless the
-- boat never writes one: it is taken to have measured all.
with

boats_with_shares as (
    select distinct vessel
    from counted_lengths
    where share_measured is not null
),

final as (
    select
        hauls.row,
        counted_lengths.species,
        counted_lengths.length_cm,
        counted_lengths.count as measured,
        counted_lengths.count / case
            when boats_with_shares.vessel is null then 1.0
            else counted_lengths.share_measured
        end as fish
    from counted_lengths
    inner join hauls
        on counted_lengths.vessel = hauls.vessel
        and counted_lengths.trip = hauls.trip
        and counted_lengths.haul = hauls.haul
    left join boats_with_shares on counted_lengths.vessel = boats_with_shares.vessel
    left join hauls_missing_lengths as lacking
        on counted_lengths.vessel = lacking.vessel
        and counted_lengths.trip = lacking.trip
        and counted_lengths.haul = lacking.haul
    where coalesce(hauls.valid, true) and lacking.haul is null
)

select * from final
